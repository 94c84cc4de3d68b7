/* What several commands take in the same way: scenario, strategies, items set, units. */
#ifndef PUMPDAY_CLI_CHOICES_H
#define PUMPDAY_CLI_CHOICES_H

#include "cli/options.h"

#include <pumpday/pumpday.h>

enum { SETS_MOST = 2 * PD_ITEM_COUNT };

/* Overrides of items, in their order. */
struct sets {
    const char *list[SETS_MOST];
    size_t count;
};

/* Each takes the value of one option and returns the exit code; what is wrong is told on stderr. */
int choose_scenario(const struct usage *usage, const char **scenario, const char *value);
int choose_set(const struct usage *usage, struct sets *sets, const char *value);

/* A number within limits, both allowed. */
int choose_number(const struct usage *usage, const char *option, double least, double most,
                  double *number, const char *value);

/* A whole number likewise. */
int choose_whole(const struct usage *usage, const char *option, long least, long most, long *number,
                 const char *value);

/* The units of what comes out; until told they follow those of what goes in. */
int choose_units(const struct usage *usage, enum pd_unit_system *units, bool *told,
                 const char *value);

/* The file to write, which must not be a file that a scenario is read from. */
int choose_file(const struct usage *usage, const char **file, const char *value);

/* Adds a strategy to the list of those chosen, which has room for all. */
int choose_strategy(const struct usage *usage, const struct pd_strategy_kind **strategies,
                    size_t *count, const char *value);

/* What several commands take in the same way; a command's request begins with one.  The pointers
 * say where in the request the value of an option goes; an option whose pointer is NULL is left to
 * the command, which may not have it. */
struct common {
    const char *scenario; /* the word of the line */
    bool own_words;       /* the command takes the words itself */
    struct sets sets;     /* --set */
    const struct pd_strategy_kind **strategies;
    size_t *strategy_count;     /* with `strategies`: --strategy */
    enum pd_unit_system *units; /* --units; until told those of the scenario */
    bool units_told;
    int *jobs;         /* --jobs */
    const char **file; /* -o, a file */
};

/* Takes what the reader found, an option or a word, if it is shared: true, and *code is the exit
 * code. */
bool common_take(const struct usage *usage, struct common *common, int found, const char *value,
                 int *code);

/* Reads a scenario with its overrides; the faults are told on stderr, those of an override as of
 * `--set`. */
bool read_scenario(const char *folder, const struct sets *sets, struct pd_scenario *scenario);

#endif
