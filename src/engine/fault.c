#include "ampsum/fault.h"

#include <math.h>

double fault_loop_ohm(double external_ohm, double conductors_ohm, double hot_factor)
{
    return external_ohm + hot_factor * conductors_ohm;
}

double fault_current_a(double voltage_factor, double voltage_v, double loop_ohm)
{
    return loop_ohm > 0 ? voltage_factor * voltage_v / loop_ohm : (double)NAN;
}

double fault_source_ohm(double voltage_factor, double voltage_v, double prospective_a)
{
    return prospective_a > 0 ? voltage_factor * voltage_v / prospective_a : (double)NAN;
}

double fault_largest_loop_ohm(double voltage_factor, double voltage_v, double instantaneous_multiple, double rating_a)
{
    return voltage_factor * voltage_v / (instantaneous_multiple * rating_a);
}

double fault_longest_m(double largest_loop_ohm, double external_ohm, double conductors_ohm_per_km, double hot_factor)
{
    const double left_ohm = largest_loop_ohm - external_ohm;
    if (isnan(left_ohm) || !(conductors_ohm_per_km > 0)) {
        return (double)NAN;
    }
    return fmax(left_ohm, 0) / (conductors_ohm_per_km * hot_factor) * 1000;
}

double fault_conventional_longest_m(double share, double voltage_v, double line_mm2, double protective_mm2,
                                    double resistivity_ohm_mm2_per_m, double opening_a)
{
    const double ratio = line_mm2 / protective_mm2;
    return share * voltage_v * line_mm2 / (resistivity_ohm_mm2_per_m * (1 + ratio) * opening_a);
}

double fault_adiabatic_k(double factor, double beta_c, double initial_c, double final_c)
{
    return factor * sqrt(log1p((final_c - initial_c) / (beta_c + initial_c)));
}

double fault_adiabatic_k_cmil(double factor, double beta_c, double initial_c, double final_c)
{
    const double mm2_per_cmil = 0.78539816339744831 * 0.0254 * 0.0254; /* a circle of 0.001 inch */
    return sqrt(factor * log10((final_c + beta_c) / (initial_c + beta_c))) / mm2_per_cmil;
}

double fault_smallest_area_mm2(double current_a, double time_s, double k)
{
    return current_a * sqrt(time_s) / k;
}

double fault_transformer_a(double power_va, double voltage_v, bool three_phase, double impedance_percent,
                           double tolerance)
{
    const double full_load_a = power_va / (voltage_v * (three_phase ? sqrt(3) : 1));
    return full_load_a * 100 / (impedance_percent * tolerance);
}

double fault_point_to_point_a(double current_a, double legs, double length_ft, double c, double parallel,
                              double voltage_v)
{
    const double f = legs * length_ft * current_a / (c * parallel * voltage_v);
    return current_a / (1 + f);
}
