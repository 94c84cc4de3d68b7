/* A fitted log for people on site: the sizes, what the log showed and what it could not. */
#include "present/diagnose_table.h"

#include "present/diagnose_parts.h"

#include <math.h>
#include <string.h>

/* A misfit of a fitted log over this is no good fit. */
static const double good_fit = 2;

/* Sizes are shown with twice their deviation: one answer in twenty is further off.  With more,
 * Pa and a share, they are not told by the log. */
static const double shown_off = 2, told_gauge = 150e3, told_leak = 1;

/* A fitted gauge or leak so far from the designed one is told in words. */
static const double clear_gauge = 30e3, clear_leak = 1.25, least_leak = 0.02e-3 / 60;

static bool tells_precharge(const struct pd_log_fit *fit)
{
    return fit->gauged || (!fit->logged_slowly && shown_off * fit->precharge_off <= told_gauge);
}

static bool tells_leak(const struct pd_log_fit *fit)
{
    return shown_off * fit->leak_off <= told_leak * fit->leak;
}

static bool tells_start(const struct pd_log_fit *fit)
{
    return !fit->start_hidden && shown_off * fit->start_off <= told_gauge;
}

static void write_line(FILE *stream, const char *what, const char *first, const char *off,
                       const char *second)
{
    (void)fprintf(stream, "  %-32s%19s%14s%16s\n", what, first, off, second);
}

static void write_size(FILE *stream, const char *what, enum pd_kind kind, enum pd_unit_system units,
                       double fitted, double off, double designed)
{
    char left[CELL_MOST], middle[CELL_MOST], right[CELL_MOST];

    size_text(left, kind, units, fitted);
    size_text(middle, kind, units, off);
    size_text(right, kind, units, designed);
    write_line(stream, what, left, middle, right);
}

static void write_precharge(FILE *stream, const struct pd_log_fit *fit, enum pd_unit_system units)
{
    char left[CELL_MOST], off[CELL_MOST] = "as gauged", right[CELL_MOST];

    precharge_text(left, units, fit->precharge);
    if (!fit->gauged) {
        size_text(off, PD_KIND_PRESSURE, units, shown_off * fit->precharge_off);
    }
    size_text(right, PD_KIND_PRESSURE, units, fit->strategy.precharge);
    write_line(stream, "precharge", left, off, right);
}

static void write_sizes(FILE *stream, const struct pd_log_fit *fit, enum pd_unit_system units)
{
    char pressure[CELL_MOST], what[CELL_MOST];

    write_line(stream, "", "fitted", "give or take", "as designed");
    write_precharge(stream, fit, units);
    size_text(pressure, PD_KIND_PRESSURE, units, fit->leak_pressure);
    (void)snprintf(what, sizeof what, "%s at %.12s", fit->by_valve ? "check valve" : "leak",
                   pressure);
    write_size(stream, what, PD_KIND_FLOW, units, fit->leak, shown_off * fit->leak_off,
               fit->leak_designed);
    write_size(stream, fit->start_hidden ? "start pressure, or less" : "start pressure",
               PD_KIND_PRESSURE, units, fit->start, shown_off * fit->start_off,
               fit->strategy.start_pressure);
    if (!fit->supply_told) {
        write_size(stream, "supply pressure", PD_KIND_PRESSURE, units, fit->supply,
                   shown_off * fit->supply_off, fit->supply_designed);
    }
    (void)fprintf(stream, "  %-32s%19.1f\n", "misfit", fit->misfit);
}

static void write_traits(FILE *stream, const struct pd_log_fit *fit, enum pd_unit_system units)
{
    char by_hand[CELL_MOST];

    size_text(by_hand, PD_KIND_FLOW, units, fit->leak_by_hand);
    (void)fprintf(stream,
                  "\n  the leak by hand, what the tank gives over the time between "
                  "starts: %s\n\n",
                  by_hand);
    write_line(stream, "", "logged", "may be off", "simulated");
    for (int i = 0; i < PD_TRAIT_COUNT; i++) {
        if (!isnan(fit->logged[i])) {
            write_size(stream, pd_traits[i].name, pd_traits[i].kind, units, fit->logged[i],
                       fit->off[i], fit->simulated[i]);
        }
    }
}

/* What rows far apart show, and what not. */
static void write_reach(FILE *stream, const struct pd_log_fit *fit)
{
    bool run = !isnan(fit->logged[PD_TRAIT_ON]);

    (void)fprintf(stream,
                  "\nA row every %.3g s is too seldom to follow a run of the pump.\n"
                  "  Read: the time between starts; the gauges before a start and after a stop, as "
                  "near as rows\n  come to them; how the gauge falls%s.\n"
                  "  Not read: how the gauge rises%s.\n"
                  "  A pump that starts oftener than once in %.3g s could look like this: listen "
                  "to it once.\n",
                  fit->interval, run ? "; the run, by the share of rows with the power on" : "",
                  run              ? ""
                  : fit->has_power ? "; how long a run takes: no row met one"
                                   : "; how long a run takes: the log has no power",
                  2 * fit->interval);
}

/* Words of a list, those that are NULL left out. */
static void write_list(FILE *stream, const char *const *words, size_t count, const char *between)
{
    bool begun = false;

    for (size_t i = 0; i < count; i++) {
        if (words[i] != NULL) {
            (void)fprintf(stream, "%s%s", begun ? between : " ", words[i]);
            begun = true;
        }
    }
    (void)fprintf(stream, ".\n");
}

/* What the log leaves open. */
static void write_untold(FILE *stream, const struct pd_log_fit *fit)
{
    const char *const open[] = {
        tells_precharge(fit) ? NULL : "the precharge",
        tells_leak(fit) ? NULL : "how much water is lost",
        tells_start(fit) ? NULL : "the start pressure",
    };

    if (open[0] != NULL || open[1] != NULL || open[2] != NULL) {
        (void)fprintf(stream, "Not told by this log:");
        write_list(stream, open, sizeof open / sizeof open[0], ", ");
    }
    if (fit->start_hidden) {
        (void)fprintf(stream, "  With the tank empty, at its precharge, the gauge drops at once: "
                              "where the pump starts is not seen.\n");
    }
    if (open[0] != NULL) {
        (void)fprintf(stream, "  Gauge the precharge and tell it with the same log, as --seen "
                              "precharge=PRESSURE: it is then held.\n");
    }
}

/* Where the water goes. */
static void write_place(FILE *stream, const struct pd_log_fit *fit)
{
    if (fit->by_valve) {
        (void)fprintf(stream, "  The gauge falls with the house shut: the check valve passes. Dirt "
                              "or sealant on its seat, a worn\n  seat, fitted the wrong way "
                              "round.\n");
    } else if (fit->house_leaks) {
        (void)fprintf(stream,
                      "  The gauge stands with the house shut: the house loses it. Toilets, "
                      "softeners, outdoor taps,\n  relief valves.\n");
    } else {
        (void)fprintf(stream,
                      "  A log does not tell a leak in the house from a check valve that passes: "
                      "switch the pump off and\n  shut the stop valve to the house; if the gauge "
                      "still falls, it is the check valve. Tell it with\n  the same log, as --seen "
                      "falls_isolated=yes or no.\n");
    }
}

/* Which of the two, if either, a fitted gauge is by its distance from the designed one. */
static const char *off_by(double by, double off, const char *low, const char *high)
{
    double least = fmax(clear_gauge, shown_off * off);

    return by < -least ? low : by > least ? high : NULL;
}

static const char *precharge_words(const struct pd_log_fit *fit)
{
    if (!tells_precharge(fit)) {
        return NULL;
    }
    return off_by(fit->precharge - fit->strategy.precharge, fit->gauged ? 0 : fit->precharge_off,
                  "the precharge is low", "the precharge is high");
}

static const char *start_words(const struct pd_log_fit *fit)
{
    if (!tells_start(fit)) {
        return NULL;
    }
    return off_by(fit->start - fit->strategy.start_pressure, fit->start_off, "the start is low",
                  "the start is high");
}

static const char *nothing_words(const struct pd_log_fit *fit)
{
    return tells_precharge(fit) && tells_start(fit) ? "nothing is wrong"
                                                    : "nothing that it tells is wrong";
}

/* What a good fit says in words. */
static void write_verdict(FILE *stream, const struct pd_log_fit *fit)
{
    bool leaks = fit->leak > clear_leak * fit->leak_designed + least_leak;
    const char *words[] = {precharge_words(fit), leaks ? "water is lost" : NULL, start_words(fit)};

    if (words[0] == NULL && words[1] == NULL && words[2] == NULL) {
        words[0] = nothing_words(fit);
    }
    (void)fprintf(stream, "\n%sBy the log%s:",
                  fit->gauged ? ""
                              : "First gauge the precharge, pump off and the water side drained to "
                                "zero.\n",
                  fit->gauged ? " and the gauged precharge" : "");
    write_list(stream, words, sizeof words / sizeof words[0], "; ");
    if (leaks) {
        write_place(stream, fit);
    }
}

static void write_cautions(FILE *stream, const struct pd_log_fit *fit)
{
    if (fit->misfit > good_fit) {
        (void)fprintf(stream,
                      "\nThe fit is poor: a tap was open, the supply was another, %sor the "
                      "installation is not the scenario's.\n",
                      fit->gauged ? "the precharge is not the gauged one,\n  the tank is smaller "
                                    "than designed, "
                                  : "");
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
    (void)fprintf(stream, "%s, %zu cycles, a row every %.3g s, all taps shut\n\n",
                  fit->strategy.kind->name, fit->cycles, fit->interval);
    write_sizes(stream, fit, units);
    write_traits(stream, fit, units);
    if (fit->far_apart) {
        write_reach(stream, fit);
    }
    if (fit->misfit <= good_fit) {
        write_verdict(stream, fit);
        write_untold(stream, fit);
    }
    write_cautions(stream, fit);
}
