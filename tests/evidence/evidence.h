/* Checks against the world outside, kept in a list that becomes a page of results. */
#ifndef PUMPDAY_TESTS_EVIDENCE_H
#define PUMPDAY_TESTS_EVIDENCE_H

/* The parts of the page, in its order. */
enum evidence_part {
    EVIDENCE_WATER,
    EVIDENCE_PIPES,
    EVIDENCE_LEAKS,
    EVIDENCE_PUMP,
    EVIDENCE_TANK,
    EVIDENCE_GAS,
    EVIDENCE_SWITCH,
    EVIDENCE_SIZING,
    EVIDENCE_DEMAND,
    EVIDENCE_PROPERTIES,
    EVIDENCE_PRACTICE,
    EVIDENCE_PARTS
};

/* What the reader must know of a published value; added up. */
enum {
    EVIDENCE_PRINTED = 0,     /* seen in the work */
    EVIDENCE_FROM_MEMORY = 1, /* value from memory */
    EVIDENCE_COMPUTED = 2,    /* computed from the published formula */
    EVIDENCE_UNSOURCED = 4    /* common practice, no source */
};

/* Where a value comes from.  An empty work: it must hold by itself. */
struct evidence_source {
    const char *work;
    unsigned flags;
};

/* Following checks belong to this part. */
void evidence_part(enum evidence_part part);

/* Records a check and asserts |ours - published| <= tolerance.  `what` is copied. */
void evidence_check(const char *what, const struct evidence_source *source, double published,
                    double ours, const char *unit, double tolerance);

/* The same for a value that must not be over, or under, the published one. */
void evidence_at_most(const char *what, const struct evidence_source *source, double published,
                      double ours, const char *unit);
void evidence_at_least(const char *what, const struct evidence_source *source, double published,
                       double ours, const char *unit);

/* A text put together for `what`; holds until the next call. */
const char *evidence_text(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif
