#include "settle_glpk.h"

#include <limits.h>
#include <math.h>

#include <glpk.h>

int glpk_moves(const struct settle_problem *problem, int most_ms)
{
    glp_prob *lp = glp_create_prob();
    glp_term_out(GLP_OFF);
    glp_set_obj_dir(lp, GLP_MIN);
    glp_add_rows(lp, (int)(problem->load_count + problem->branch_count));
    for (size_t i = 0; i < problem->load_count; i++) {
        glp_set_row_bnds(lp, (int)i + 1, GLP_FX, 1, 1);
    }
    for (size_t i = 0; i < problem->branch_count; i++) {
        glp_set_row_bnds(lp, (int)(problem->load_count + i) + 1, GLP_UP, 0, problem->limit_a[i] * (1 + 1e-9));
    }
    for (size_t i = 0; i < problem->load_count; i++) {
        for (size_t k = 0; k < problem->loads[i].option_count; k++) {
            int column = glp_add_cols(lp, 1);
            glp_set_col_kind(lp, column, GLP_BV);
            glp_set_obj_coef(lp, column, k != problem->loads[i].home);
            int rows[3] = {0, (int)i + 1, (int)(problem->load_count + problem->loads[i].options[k].branch) + 1};
            double values[3] = {0, 1, problem->loads[i].options[k].planning_a};
            glp_set_mat_col(lp, column, 2, rows, values);
        }
    }
    glp_iocp how;
    glp_init_iocp(&how);
    how.presolve = GLP_ON;
    how.tm_lim = most_ms > 0 ? most_ms : INT_MAX;
    how.mir_cuts = how.gmi_cuts = how.cov_cuts = how.clq_cuts = GLP_ON;
    int status = glp_intopt(lp, &how);
    int moves = status == GLP_ETMLIM ? -2 : -1;
    if (status == 0 && glp_mip_status(lp) == GLP_OPT) {
        moves = (int)lround(glp_mip_obj_val(lp));
    }
    glp_delete_prob(lp);
    return moves;
}
