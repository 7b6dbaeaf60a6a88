#include "circuit_output.h"

#include "ampsum/print_network.h"
#include "ampsum/show_circuit.h"
#include "ampsum/words.h"

static void write_answer(struct invocation *invocation, const struct circuit_work *work, const struct solve_look *look)
{
    if (!INVOCATION_TABLE(invocation, show_circuit_json(work), show_circuit_table(work))) {
        show_circuit_text(work, look->source, look->brief, &invocation->page, &invocation->out);
    }
}

/* The terminal's answer as a file. */
static int write_text(struct invocation *invocation, const struct circuit_work *work, const struct solve_look *look,
                      const struct output *output)
{
    const struct page page = {.width = 80, .utf8 = true};
    struct text text = {0};
    if (look->sheet) {
        show_circuit_sheet(work, look->source, &page, &text);
    } else {
        show_circuit_text(work, look->source, look->brief, &page, &text);
    }
    const bool written = invocation_write_file(invocation, output->path, &text, output->force);
    text_done(&text);
    return written ? 0 : 2;
}

int circuit_output(struct invocation *invocation, const struct circuit_work *work, const struct solve_look *look,
                   struct output *output)
{
    int status = 2;
    if (output->path == NULL) {
        write_answer(invocation, work, look);
        return 0;
    }
    if (words_end_with(output->path, ".txt")) {
        return write_text(invocation, work, look, output);
    }
    if (!print_output_begin(invocation, output, &status) ||
        !print_output_head_of(invocation, output, PRINT_A4, "solve")) {
        return status;
    }
    return print_output_write(invocation, output,
                              print_network(work, look->source, look->symbols == 0, look->sheet, &output->head));
}
