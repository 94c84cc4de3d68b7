/* The steps that commands share: reading the line, reading the scenario, going on or being
 * interrupted, telling what failed. */
#ifndef PUMPDAY_CLI_STEPS_H
#define PUMPDAY_CLI_STEPS_H

#include "cli/choices.h"

#include <time.h>

/* How a command reads its line: `take` gets each option or word, `check` the whole at the end
 * (NULL: nothing to check).  Both return an exit code and have told what is wrong. */
struct line_reader {
    const struct usage *usage;
    int help; /* place of --help among the options */
    int (*take)(void *request, int found, const char *value);
    int (*check)(void *request);
};

/* The usual command: a request that begins with a struct common, which takes what is shared, so
 * that `take` (NULL: there is nothing else) gets the command's own options alone; and a function
 * that is run on the scenario.  Returns the exit code. */
int command_run(const struct line_reader *reader, int argc, char **argv, struct common *request,
                int (*run)(const struct pd_scenario *scenario, const void *request));

/* The same in two steps, for a command that does something between or instead. */
bool common_line_read(const struct line_reader *reader, int argc, char **argv,
                      struct common *request, int *code);
int common_run(const struct common *request,
               int (*run)(const struct pd_scenario *scenario, const void *request));

/* Reads a command line into a request.  False: there is nothing more to do, and *code is the exit
 * code; help has been printed, or what is wrong has been told. */
bool line_read(const struct line_reader *reader, int argc, char **argv, void *request, int *code);

/* Tells that the scenario's folder is missing, if it is; returns an exit code. */
int scenario_needed(const struct usage *usage, const char *scenario);

/* Reads a scenario with its overrides, runs a function on it, and frees it; returns the exit code.
 * *own_units becomes the system that its files are written in (NULL: --units told one). */
int scenario_run(const char *folder, const struct sets *sets, enum pd_unit_system *own_units,
                 int (*run)(const struct pd_scenario *scenario, const void *request),
                 const void *request);

/* The go_on function of days: false once an interrupt has come.  Its context is a struct progress,
 * which says on a terminal that a simulation takes a while; or NULL, and nothing is said. */
struct progress {
    time_t begun;
    bool told;
};
struct progress progress_begin(void);
bool progress_go_on(void *context);

/* Tells an error, or that there was an interrupt; returns the exit code. */
int error_tell(const struct pd_error *error);

/* Prints that a file was written. */
void written_tell(const char *path);

/* Prints the scenario's title, or its folder where it has none, and a newline. */
void title_print(const struct pd_scenario *scenario);

/* The same, with a word where the day is one of a household's many. */
void day_title_print(const struct pd_scenario *scenario);

/* Standard output is a terminal, and NO_COLOR is not set. */
bool colour_wanted(void);

#endif
