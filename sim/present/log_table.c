/* A fitted log for people on site. */
#include "present/diagnose_table.h"

#include "present/diagnose_parts.h"

#include <math.h>

/* A misfit of a fitted log over this is no good fit. */
static const double good_fit = 2;

/* A fitted gauge or leak so far from the designed one is told in words. */
static const double clear_gauge = 30e3, clear_leak = 1.25, least_leak = 0.02e-3 / 60;

static void write_fitted(FILE *stream, const char *what, enum pd_kind kind,
                         enum pd_unit_system units, double fitted, double designed)
{
    char left[CELL_MOST], right[CELL_MOST];

    size_text(left, kind, units, fitted);
    size_text(right, kind, units, designed);
    (void)fprintf(stream, "  %-32s%19s%16s\n", what, left, right);
}

static void write_precharge(FILE *stream, const struct pd_log_fit *fit, enum pd_unit_system units)
{
    char left[CELL_MOST], right[CELL_MOST];

    precharge_text(left, units, fit->precharge);
    size_text(right, PD_KIND_PRESSURE, units, fit->strategy.precharge);
    (void)fprintf(stream, "  %-32s%19s%16s\n", "precharge", left, right);
}

static const char *off_by(double fitted, double designed, double least)
{
    return fitted < designed - least ? "low" : fitted > designed + least ? "high" : NULL;
}

/* What a good fit says in words. */
static void write_verdict(FILE *stream, const struct pd_log_fit *fit)
{
    const char *precharge =
        fit->logged_slowly ? NULL : off_by(fit->precharge, fit->strategy.precharge, clear_gauge);
    const char *start = off_by(fit->start, fit->strategy.start_pressure, clear_gauge);
    bool leaks = fit->leak > clear_leak * fit->leak_designed + least_leak;

    (void)fprintf(
        stream,
        "\nFirst gauge the precharge, pump off and the water side drained to "
        "zero.\nBy the log:%s%s%s%s%s%s.\n",
        precharge != NULL ? " the precharge is " : "", precharge != NULL ? precharge : "",
        leaks ? (precharge != NULL ? "; water is lost" : " water is lost") : "",
        start != NULL ? (precharge != NULL || leaks ? "; the start is " : " the start is ") : "",
        start != NULL ? start : "",
        precharge == NULL && !leaks && start == NULL ? " nothing is wrong" : "");
    if (leaks) {
        (void)fprintf(stream,
                      "  A log does not tell a leak in the house from a check valve that passes: "
                      "switch the pump off and\n  shut the stop valve to the house; if the gauge "
                      "still falls, it is the check valve.\n");
    }
}

static void write_cautions(FILE *stream, const struct pd_log_fit *fit)
{
    if (fit->misfit > good_fit) {
        (void)fprintf(stream, "\nThe fit is poor: a tap was open, the supply was another, or the "
                              "installation is not the scenario's.\n");
    }
    if (fit->logged_slowly) {
        (void)fprintf(stream,
                      "\nThe rises take less than two intervals of %.3g s: precharge and leak are "
                      "hardly told apart.\n  Log faster.\n",
                      fit->interval);
    }
    if (gas_is_lost(fit->precharge)) {
        (void)fprintf(stream, "\nThe tank acts as if it held no gas: look for water at "
                              "its air valve.\n");
    }
}

void pd_log_fit_write(FILE *stream, const struct pd_log_fit *fit, enum pd_unit_system units)
{
    char left[CELL_MOST], right[CELL_MOST];

    (void)fprintf(stream, "%s, %zu cycles, a row every %.3g s, all taps shut\n\n",
                  fit->strategy.kind->name, fit->cycles, fit->interval);
    (void)fprintf(stream, "  %-32s%19s%16s\n", "", "fitted", "as designed");
    write_precharge(stream, fit, units);
    size_text(left, PD_KIND_PRESSURE, units, fit->leak_pressure);
    (void)snprintf(right, sizeof right, "leak at %.20s", left);
    write_fitted(stream, right, PD_KIND_FLOW, units, fit->leak, fit->leak_designed);
    write_fitted(stream, "start pressure", PD_KIND_PRESSURE, units, fit->start,
                 fit->strategy.start_pressure);
    size_text(left, PD_KIND_FLOW, units, fit->leak_by_hand);
    (void)fprintf(stream, "  %-32s%19.1f\n", "misfit", fit->misfit);
    (void)fprintf(stream,
                  "\n  the leak by hand, what the tank gives over the time between "
                  "starts: %s\n\n  %-32s%19s%16s\n",
                  left, "", "logged", "simulated");
    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        if (!isnan(fit->logged[i])) {
            write_fitted(stream, pd_traits[i].name, pd_traits[i].kind, units, fit->logged[i],
                         fit->simulated[i]);
        }
    }
    if (fit->misfit <= good_fit) {
        write_verdict(stream, fit);
    }
    write_cautions(stream, fit);
}
