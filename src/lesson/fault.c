#include "fault.h"

/* The operands by name. */
struct readings {
    size_t count;             /* of parts */
    const mpq_srcptr *marked; /* resistance of each part */
    mpq_srcptr source_v;
    mpq_srcptr front_v;
    mpq_srcptr group_v;
    const mpq_srcptr *current_a; /* of the second part and on */
};

struct verdict {
    unsigned long part;
    enum lesson_fault fault;
};

static struct readings readings_of(const mpq_srcptr *operands, size_t count)
{
    const size_t parts = (count - 2) / 2; /* parts, three voltages, parts less the first */
    return (struct readings){
        parts, operands, operands[parts], operands[parts + 1], operands[parts + 2], operands + parts + 3};
}

/* a + b = c */
static bool adds_up(mpq_srcptr a, mpq_srcptr b, mpq_srcptr c)
{
    mpq_t sum;
    mpq_init(sum);
    mpq_add(sum, a, b);
    const bool same = mpq_equal(sum, c);
    mpq_clear(sum);
    return same;
}

/* The fault of one part by its own readings; false where they go together. */
static bool find_own(mpq_srcptr marked, mpq_srcptr voltage, mpq_srcptr current, enum lesson_fault *ret_fault)
{
    mpq_t product;
    mpq_init(product);
    mpq_mul(product, marked, current);
    const bool fits = mpq_equal(product, voltage);
    *ret_fault = mpq_sgn(current) == 0   ? LESSON_FAULT_OPEN
                 : mpq_sgn(voltage) == 0 ? LESSON_FAULT_SHORT
                                         : LESSON_FAULT_VALUE;
    mpq_clear(product);
    return !fits;
}

static bool judge(const mpq_srcptr *operands, size_t count, struct verdict *ret)
{
    const struct readings readings = readings_of(operands, count);
    mpq_t total;
    bool found = false;
    mpq_init(total);
    for (size_t i = 1; i < readings.count; i++) {
        mpq_add(total, total, readings.current_a[i - 1]);
        if (!found && find_own(readings.marked[i], readings.group_v, readings.current_a[i - 1], &ret->fault)) {
            ret->part = i + 1;
            found = true;
        }
    }
    if (!found && find_own(readings.marked[0], readings.front_v, total, &ret->fault)) {
        ret->part = 1;
        found = true;
    }
    if (!found && !adds_up(readings.front_v, readings.group_v, readings.source_v)) {
        *ret = (struct verdict){1, LESSON_FAULT_JOINT};
        found = true;
    }
    mpq_clear(total);
    return found;
}

bool lesson_fault_part(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    struct verdict verdict;
    const bool found = judge(operands, count, &verdict);
    mpq_set_ui(ret, found ? verdict.part : 0, 1);
    return found;
}

bool lesson_fault_kind(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    struct verdict verdict;
    const bool found = judge(operands, count, &verdict);
    mpq_set_ui(ret, found ? (unsigned long)verdict.fault : 0, 1);
    return found;
}
