/* Tables and sentences of a diagnosis. */
#include "present/diagnose_table.h"

#include "output/amount.h"

#include <math.h>
#include <string.h>

enum { CELL_MOST = 48, SHOWN_BESIDE = 3 };

/* Under ten of these, flows and volumes are shown with another digit. */
static const double small_flow = 1e-3 / 60, small_volume = 1e-3;

/* A misfit that is better by less shows the same figure. */
static const double least_help = 0.05;

/* A needle's width: a precharge less than this under nothing is nothing. */
static const double gauge_width = 10e3;

/* A misfit of a fitted log over this is no good fit. */
static const double good_fit = 2;

/* A fitted gauge or leak so far from the designed one is told in words. */
static const double clear_gauge = 30e3, clear_leak = 1.25, least_leak = 0.02e-3 / 60;

/* Small leaks need more digits than taps. */
static void size_text(char text[CELL_MOST], enum pd_kind kind, enum pd_unit_system units, double si)
{
    char amount[PD_AMOUNT_MOST];

    if ((kind == PD_KIND_FLOW && si < 10 * small_flow) ||
        (kind == PD_KIND_VOLUME && si < 10 * small_volume)) {
        bool gpm = kind == PD_KIND_FLOW && units == PD_UNITS_US;
        (void)snprintf(text, CELL_MOST, "%.*f %s", gpm ? 3 : 2, pd_amount_number(kind, units, si),
                       pd_amount_unit(kind, units));
        return;
    }
    pd_amount_text(amount, kind, units, si);
    (void)snprintf(text, CELL_MOST, "%s", amount);
}

/* Gas does not pull: a tank that acts as if its precharge were under nothing has lost its gas. */
static void precharge_text(char text[CELL_MOST], enum pd_unit_system units, double gauge)
{
    if (gauge < -gauge_width) {
        (void)snprintf(text, CELL_MOST, "lost: no gas left");
        return;
    }
    size_text(text, PD_KIND_PRESSURE, units, gauge < 0 ? 0 : gauge);
}

static void part_text(char text[CELL_MOST], const struct pd_part *part, enum pd_unit_system units)
{
    if (part->kind == PD_SUSPECT_PRECHARGE_LOW) {
        precharge_text(text, units, part->size);
    } else {
        size_text(text, part->size_kind, units, part->size);
    }
}

/* A reading of yes or no. */
static const char *answer_text(enum pd_sign sign, double value)
{
    if (sign == PD_SIGN_STOPS) {
        return value > 0.5 ? "yes, stops" : "no, runs on";
    }
    return value > 0.75 ? "yes, falls" : value < 0.25 ? "no, stands" : "part of the way";
}

/* A time that is none; NULL if it is one. */
static const char *no_time_text(enum pd_sign sign, double value)
{
    if (value >= PD_SIGN_NEVER) {
        return sign == PD_SIGN_BETWEEN_STARTS ? "never" : "for good";
    }
    return value <= 0 ? "never" : NULL;
}

static void reading_text(char text[CELL_MOST], enum pd_sign sign, enum pd_unit_system units,
                         double value)
{
    enum pd_kind kind = pd_signs[sign].kind;
    const char *words = isnan(value)             ? "-"
                        : kind == PD_KIND_CHOICE ? answer_text(sign, value)
                        : kind == PD_KIND_TIME   ? no_time_text(sign, value)
                                                 : NULL;

    if (words != NULL) {
        (void)snprintf(text, CELL_MOST, "%s", words);
    } else {
        size_text(text, kind, units, value);
    }
}

/* The misfit of a system as designed. */
static double misfit_as_designed(const struct pd_diagnosis *diagnosis)
{
    size_t i = 0;

    while (i + 1 < PD_SUSPECT_COUNT && diagnosis->suspect[i].kind != PD_SUSPECT_NONE) {
        i++;
    }
    return diagnosis->suspect[i].misfit;
}

static bool is_out(const struct pd_suspect *suspect)
{
    return suspect->ruled_out_by != PD_SIGN_COUNT;
}

/* The sizes of a part: as fitted, if it helps, and as designed. */
static void write_sizes(FILE *stream, const struct pd_part *part, bool helps,
                        enum pd_unit_system units)
{
    char size[CELL_MOST] = "-", designed[CELL_MOST] = "-";

    if (part != NULL) {
        size_text(designed, part->size_kind, units, part->designed);
    }
    if (part != NULL && helps) {
        part_text(size, part, units);
    }
    (void)fprintf(stream, "%19s%16s", size, designed);
}

/* One line a size; the name and the misfit stand on the first. */
static void write_suspect(FILE *stream, const struct pd_suspect *suspect, bool helps,
                          enum pd_unit_system units)
{
    (void)fprintf(stream, "  %-24s", pd_suspect_name(suspect->kind));
    write_sizes(stream, suspect->parts > 0 ? &suspect->part[0] : NULL, helps, units);
    (void)fprintf(stream, "%10.1f%s%s\n", suspect->misfit, is_out(suspect) ? "  no: " : "",
                  is_out(suspect) ? pd_signs[suspect->ruled_out_by].name : "");
    for (size_t i = 1; i < suspect->parts; i++) {
        (void)fprintf(stream, "  %-24s", "");
        write_sizes(stream, &suspect->part[i], helps, units);
        (void)fprintf(stream, "\n");
    }
}

static void write_suspects(FILE *stream, const struct pd_diagnosis *diagnosis,
                           enum pd_unit_system units)
{
    double worst = misfit_as_designed(diagnosis);

    (void)fprintf(stream, "  %-24s%19s%16s%10s\n", "suspect", "fitted size", "as designed",
                  "misfit");
    for (size_t i = 0; i < PD_SUSPECT_COUNT; i++) {
        const struct pd_suspect *suspect = &diagnosis->suspect[i];
        // a size that explains no more than the designed one is no size
        if (!suspect->needless) {
            write_suspect(stream, suspect, suspect->misfit < worst - least_help, units);
        }
    }
}

/* What was seen beside what the first few would show. */
static void write_readings(FILE *stream, const struct pd_diagnosis *diagnosis,
                           const struct pd_seen *seen, enum pd_unit_system units)
{
    char text[CELL_MOST];

    (void)fprintf(stream, "\n  %-16s%13s", "reading", "seen");
    for (size_t i = 0; i < SHOWN_BESIDE; i++) {
        (void)fprintf(stream, "  %21s", pd_suspect_name(diagnosis->suspect[i].kind));
    }
    (void)fprintf(stream, "\n");
    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        reading_text(text, (enum pd_sign)sign, units, seen->sign[sign]);
        (void)fprintf(stream, "  %-16s%13s", pd_signs[sign].name, text);
        for (size_t i = 0; i < SHOWN_BESIDE; i++) {
            reading_text(text, (enum pd_sign)sign, units, diagnosis->suspect[i].reading[sign]);
            (void)fprintf(stream, "  %21s", text);
        }
        (void)fprintf(stream, "\n");
    }
}

static const char *advice_for(enum pd_suspect_kind kind)
{
    static const char *const advice[PD_SUSPECT_COUNT] = {
        [PD_SUSPECT_NONE] = "",
        [PD_SUSPECT_LEAK] =
            "water that runs with all taps shut: WC cisterns, dripping taps, the garden,\n"
            "  relief valves. Shut the stop valve to the house: if the gauge then stands, it is "
            "there.",
        [PD_SUSPECT_CHECK_VALVE] =
            "the check valve: dirt or sealant on its seat, a worn seat, fitted the wrong way\n"
            "  round. With the stop valve to the house shut and the pump off the gauge still "
            "falls.",
        [PD_SUSPECT_PRECHARGE_LOW] =
            "the precharge, read with the pump off and the water side drained to zero. Pump it\n"
            "  up to the designed one; water at the air valve means a torn diaphragm: a new tank.",
        [PD_SUSPECT_PRECHARGE_HIGH] =
            "the precharge, read with the pump off and the water side drained to zero. Let gas\n"
            "  out down to the designed one.",
        [PD_SUSPECT_START_OFF] =
            "the controller: what its start is set to, and whether its sensor or switch tells\n"
            "  the truth; hold it against a good gauge.",
        [PD_SUSPECT_TANK_SMALL] =
            "the tank: its plate against the design, a shut valve or a blocked pipe to it.",
        [PD_SUSPECT_LEAK_PRECHARGE_LOW] =
            "the precharge, pump off and the water side drained to zero; put it right, then\n"
            "  time the starts again, and look for the water that runs with all taps shut.",
        [PD_SUSPECT_LEAK_PRECHARGE_HIGH] =
            "the precharge, pump off and the water side drained to zero; put it right, then\n"
            "  time the starts again, and look for the water that runs with all taps shut.",
        [PD_SUSPECT_VALVE_PRECHARGE_LOW] =
            "the precharge, pump off and the water side drained to zero; put it right, then\n"
            "  time the starts again, and look for what keeps the check valve open.",
        [PD_SUSPECT_VALVE_PRECHARGE_HIGH] =
            "the precharge, pump off and the water side drained to zero; put it right, then\n"
            "  time the starts again, and look for what keeps the check valve open.",
    };
    return advice[kind];
}

static void write_apart(FILE *stream, const struct pd_diagnosis *diagnosis,
                        enum pd_unit_system units)
{
    const struct pd_suspect *first = &diagnosis->suspect[0], *second = first + 1;
    char text[CELL_MOST];

    if (diagnosis->apart == PD_SIGN_COUNT || diagnosis->apart_by < 2) {
        (void)fprintf(stream,
                      "to tell \"%s\" from \"%s\": no other reading here would;\n"
                      "  look at both.\n",
                      pd_suspect_name(first->kind), pd_suspect_name(second->kind));
        return;
    }
    (void)fprintf(stream, "to tell \"%s\" from \"%s\", read %s\n  (%s):\n",
                  pd_suspect_name(first->kind), pd_suspect_name(second->kind),
                  pd_signs[diagnosis->apart].name, pd_signs[diagnosis->apart].help);
    reading_text(text, diagnosis->apart, units, first->reading[diagnosis->apart]);
    (void)fprintf(stream, "  %s: %s", pd_suspect_name(first->kind), text);
    reading_text(text, diagnosis->apart, units, second->reading[diagnosis->apart]);
    (void)fprintf(stream, "; %s: %s.\n", pd_suspect_name(second->kind), text);
    if (diagnosis->apart == PD_SIGN_ON || diagnosis->apart == PD_SIGN_OFF) {
        size_text(text, PD_KIND_FLOW, units, diagnosis->draw);
        (void)fprintf(stream, "  The draw is %s at the reference pressure.\n", text);
    }
}

static void write_alike(FILE *stream, const struct pd_diagnosis *diagnosis)
{
    (void)fprintf(stream, "What was seen fits %zu suspects about alike:\n  ", diagnosis->alike);
    for (size_t i = 0; i < diagnosis->alike; i++) {
        (void)fprintf(stream, "%s%s",
                      i == 0   ? ""
                      : i == 4 ? ",\n  "
                               : ", ",
                      pd_suspect_name(diagnosis->suspect[i].kind));
    }
    (void)fprintf(stream, ".\n");
}

/* What a yes or no that was seen leaves no room for, where it would fit better than the first. */
static void write_ruled_out(FILE *stream, const struct pd_diagnosis *diagnosis,
                            const struct pd_seen *seen)
{
    for (size_t i = 1; i < PD_SUSPECT_COUNT; i++) {
        const struct pd_suspect *suspect = &diagnosis->suspect[i];
        if (is_out(suspect) && suspect->misfit < diagnosis->suspect[0].misfit) {
            (void)fprintf(stream, "Ruled out by %s=%s: %s.\n", pd_signs[suspect->ruled_out_by].name,
                          seen->sign[suspect->ruled_out_by] > 0 ? "yes" : "no",
                          pd_suspect_name(suspect->kind));
        }
    }
}

/* A pump that stays off shows no more readings; most often no setting is the cause. */
static void write_never_starts(FILE *stream, enum pd_unit_system units, double start)
{
    char gauge[CELL_MOST] = "";

    (void)fprintf(stream,
                  "\nThe pump does not start. Before any setting, look at\n"
                  "  - its power: isolator, breaker, fuse, plug, voltage at the controller;\n"
                  "  - the controller's lock-out: dry run, low suction, too many starts; find the "
                  "cause, then\n    reset it;\n"
                  "  - the motor: overload tripped, capacitor, windings, a shaft that does not "
                  "turn.\n");
    if (!isnan(start)) {
        size_text(gauge, PD_KIND_PRESSURE, units, start);
        (void)fprintf(stream,
                      "Then open a tap and watch the gauge fall: over %s it need not start.\n",
                      gauge);
    }
    (void)fprintf(stream, "If all that is sound: the controller's start setting, its sensor or "
                          "switch.\n");
}

/* Whoever sees a pump start too often gauges the precharge first: it takes minutes, and a wrong one
 * makes every other fault look worse. */
static void write_gauge_first(FILE *stream, const struct pd_diagnosis *diagnosis,
                              const struct pd_seen *seen, enum pd_unit_system units)
{
    char designed[CELL_MOST];
    bool cycles = seen->sign[PD_SIGN_BETWEEN_STARTS] < PD_SIGN_NEVER ||
                  !isnan(seen->sign[PD_SIGN_ON]) || !isnan(seen->sign[PD_SIGN_OFF]) ||
                  !isnan(seen->sign[PD_SIGN_DRAWN]);

    if (cycles && isnan(seen->sign[PD_SIGN_PRECHARGE])) {
        size_text(designed, PD_KIND_PRESSURE, units, diagnosis->strategy.precharge);
        (void)fprintf(stream,
                      "\nFirst gauge the precharge: pump off, water side drained to zero, a gauge "
                      "on the tank's air\n  valve. It should be %s. Tell it as --seen "
                      "precharge=PRESSURE.\n",
                      designed);
    }
}

/* False where there is nothing more to say. */
static bool write_sentence(FILE *stream, const struct pd_diagnosis *diagnosis)
{
    const struct pd_suspect *best = &diagnosis->suspect[0];

    (void)fprintf(stream, "\n");
    if (best->misfit > PD_EXPLAINS) {
        (void)fprintf(
            stream, "Nothing here explains what was seen: other faults at once, a reading that is "
                    "off, or an\n  installation that is not the scenario's. A logged gauge "
                    "(--log) fits leak, precharge and\n  start pressure together.\n");
        if (best->kind == PD_SUSPECT_NONE || is_out(best)) {
            return false;
        }
        (void)fprintf(stream, "The nearest: %s.\n", pd_suspect_name(best->kind));
    } else if (diagnosis->alike > 1) {
        write_alike(stream, diagnosis);
    } else {
        (void)fprintf(stream, "The likeliest: %s.\n", pd_suspect_name(best->kind));
    }
    if (best->kind == PD_SUSPECT_NONE) {
        (void)fprintf(stream, "no fault is needed: what was seen is what it should do.\n");
    } else {
        (void)fprintf(stream, "look first at %s\n", advice_for(best->kind));
    }
    return true;
}

static void write_by_hand(FILE *stream, const struct pd_diagnosis *diagnosis,
                          enum pd_unit_system units)
{
    char leak[CELL_MOST];

    if (!isnan(diagnosis->leak_by_hand)) {
        size_text(leak, PD_KIND_FLOW, units, diagnosis->leak_by_hand);
        (void)fprintf(stream,
                      "  By hand, what the tank gives between the gauges over the time between "
                      "starts: %s,\n  at the mean gauge and with the precharge as designed.\n",
                      leak);
    }
}

static void write_legend(FILE *stream, const struct pd_diagnosis *diagnosis,
                         enum pd_unit_system units)
{
    char leak[CELL_MOST], across[CELL_MOST];
    bool us = units == PD_UNITS_US;

    size_text(leak, PD_KIND_PRESSURE, units, diagnosis->leak_pressure);
    size_text(across, PD_KIND_PRESSURE, units, 1e5);
    (void)fprintf(stream,
                  "\n  misfit: root mean square of what is left, in units of a careful reading's "
                  "uncertainty\n  (times 5 %% + 1 s, volumes 10 %% + %s, gauges %s); up to "
                  "about 1 is a good fit.\n  The leak is told at %s, that of the check valve at "
                  "%s across it.\n",
                  us ? "0.05 gal" : "0.2 L", us ? "1.5 psi" : "0.1 bar", leak, across);
    write_by_hand(stream, diagnosis, units);
}

void pd_diagnosis_write(FILE *stream, const struct pd_diagnosis *diagnosis,
                        const struct pd_seen *seen, enum pd_unit_system units)
{
    char supply[CELL_MOST];

    size_text(supply, PD_KIND_PRESSURE, units, diagnosis->supply);
    (void)fprintf(stream, "%s, supply %s; each suspect's sizes fitted by simulating\n\n",
                  diagnosis->strategy.kind->name, supply);
    write_suspects(stream, diagnosis, units);
    write_legend(stream, diagnosis, units);
    write_readings(stream, diagnosis, seen, units);
    if (diagnosis->never_starts) {
        write_never_starts(stream, units, diagnosis->strategy.start_pressure);
        return;
    }
    write_gauge_first(stream, diagnosis, seen, units);
    bool more = write_sentence(stream, diagnosis);
    write_ruled_out(stream, diagnosis, seen);
    if (more && !is_out(&diagnosis->suspect[1])) {
        write_apart(stream, diagnosis, units);
    }
}

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
    if (fit->precharge < -gauge_width) {
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
