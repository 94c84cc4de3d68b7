/* What a diagnosis comes to: the likeliest, what to look at first, what would tell it from others.
 */
#include "present/diagnose_parts.h"

#include <math.h>

static const char *advice_for(enum pd_suspect_kind kind)
{
    static const char *const advice[] = {
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
    _Static_assert(sizeof advice / sizeof advice[0] == PD_SUSPECT_COUNT, "advice for each suspect");
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
        if (suspect_is_out(suspect) && suspect->misfit < diagnosis->suspect[0].misfit) {
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
        if (best->kind == PD_SUSPECT_NONE || suspect_is_out(best)) {
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

void write_next(FILE *stream, const struct pd_diagnosis *diagnosis, const struct pd_seen *seen,
                enum pd_unit_system units)
{
    if (diagnosis->never_starts) {
        write_never_starts(stream, units, diagnosis->strategy.start_pressure);
        return;
    }
    write_gauge_first(stream, diagnosis, seen, units);
    bool more = write_sentence(stream, diagnosis);
    write_ruled_out(stream, diagnosis, seen);
    // what misses the readings by thrice their uncertainty needs no other to be told apart
    if (more && !suspect_is_out(&diagnosis->suspect[1]) &&
        (diagnosis->alike > 1 || diagnosis->suspect[1].misfit < 3)) {
        write_apart(stream, diagnosis, units);
    }
}
