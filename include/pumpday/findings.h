/* The one judgement of an installation and a strategy's day: what was found, its limit and where
 * the limit comes from.  Everything that calls a strategy fit or unfit follows from this list. */
#ifndef PUMPDAY_FINDINGS_H
#define PUMPDAY_FINDINGS_H

#include <pumpday/day.h>

enum pd_level { PD_LEVEL_OK, PD_LEVEL_WARN, PD_LEVEL_FAIL };

/* Which side of the limit passes. */
enum pd_sense {
    PD_SENSE_TELLS,   /* no limit: the line's level was decided otherwise */
    PD_SENSE_AT_MOST, /* found <= limit passes */
    PD_SENSE_AT_LEAST /* found >= limit passes */
};

/* What a finding that fails comes down to, in the order in which a reader wants them: what breaks
 * things first. */
enum pd_fault {
    PD_FAULT_NONE, /* of findings that cannot fail */
    PD_FAULT_CHATTERS,
    PD_FAULT_SHORT_CYCLING,
    PD_FAULT_OVER_PRESSURE,
    PD_FAULT_TANK_RATING,
    PD_FAULT_PRECHARGE,
    PD_FAULT_START_TOO_HIGH,
    PD_FAULT_NEVER_STARTS,
    PD_FAULT_NEVER_STOPS,
    PD_FAULT_MOVES_NO_WATER,
    PD_FAULT_RUNS_DRY,
    PD_FAULT_LOCKED_OUT,
    PD_FAULT_SUCTION_TRIPS,
    PD_FAULT_POOR_SUCTION,
    PD_FAULT_WEAK_MAIN,
    PD_FAULT_LOW_TAPS,
    PD_FAULT_SHORT_RESTS,
    PD_FAULT_FAST_SUCTION,
    PD_FAULT_OFF_CURVE,
    PD_FAULT_COUNT
};

/* A fault in a word or two, as verdicts have it: "short-cycling". */
const char *pd_fault_name(enum pd_fault fault);

enum { PD_FINDINGS_MOST = 160 };

/* One line.  Texts are constants and owned by nobody. */
struct pd_finding {
    enum pd_level level;
    enum pd_fault fault;  /* what it comes down to if it fails */
    const char *strategy; /* NULL: the installation, whatever the strategy */
    const char *what;     /* "static pressure at the lowest fixture" */
    enum pd_kind kind;    /* of found and limit; PD_KIND_TEXT: words alone */
    double found;         /* SI; NAN: words tell */
    const char *words;    /* found in words, or NULL */
    enum pd_sense sense;
    bool decided;       /* the level does not follow from the limit alone */
    double limit;       /* SI */
    const char *source; /* where the limit comes from */
    const char *note;   /* what to do or to know; NULL: nothing */
};

struct pd_findings {
    size_t count, fails, warnings;
    struct pd_finding list[PD_FINDINGS_MOST];
};

/* Judges a strategy's day: the installation, the strategy's settings, and what was simulated. */
void pd_findings_judge(const struct pd_plant *plant, const struct pd_day_result *result,
                       struct pd_findings *findings);

enum { PD_VERDICT_MOST = 160 };

/* The faults of a list of one strategy, `; ` between ("short-cycling; low taps"); without one "ok",
 * or "ok; pump not needed" if it never ran.  Returns true if nothing fails. */
bool pd_findings_verdict(const struct pd_findings *findings, const struct pd_day_result *result,
                         char text[PD_VERDICT_MOST]);

#endif
