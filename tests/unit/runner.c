#include "runner.h"

#include <stdlib.h>

int main(void)
{
    SRunner *runner = srunner_create(make_suite());
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
