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

enum { PD_FINDINGS_MOST = 80 };

/* One line.  Texts are constants and owned by nobody. */
struct pd_finding {
    enum pd_level level;
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

#endif
