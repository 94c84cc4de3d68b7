/* Errors: one struct tells what went wrong, where it stands in the input, and how a program should
 * exit.  The deepest function that knows the position fills it; nobody overwrites it. */
#ifndef PUMPDAY_ERROR_H
#define PUMPDAY_ERROR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* What kind of failure this is; the values are the exit codes of the program. */
enum pd_code {
    PD_DONE = 0,          /* nothing wrong */
    PD_VERDICT_FAILS = 1, /* the run is good, the system fails a verdict that was asked for */
    PD_BAD_USAGE = 2,     /* the command line is wrong */
    PD_BAD_INPUT = 3,     /* a scenario file is wrong */
    PD_SOLVER_FAILED = 4, /* the integration could not go on */
    PD_OUTPUT_FAILED = 5, /* a result could not be written */
    PD_INTERRUPTED = 130  /* whoever asked for it stopped it */
};

enum {
    PD_PATH_MOST = 1024, /* longest path kept, bytes with the closing zero */
    PD_NAME_MOST = 64,   /* longest item or column name kept */
    PD_TEXT_MOST = 400,  /* longest message kept */
    PD_FAULTS_MOST = 64  /* faults kept of one run; the rest are counted */
};

/* One fault.  An empty file or item and a line of 0 mean that there is none to name. */
struct pd_error {
    enum pd_code code;
    int line;                /* from 1; 0: the whole file */
    char file[PD_PATH_MOST]; /* path as the user gave it */
    char item[PD_NAME_MOST]; /* item or column */
    char text[PD_TEXT_MOST]; /* what is wrong, got "x", expected ... */
};

/* All the faults found in one run. */
struct pd_faults {
    size_t count; /* faults found; may exceed PD_FAULTS_MOST, the list never does */
    struct pd_error list[PD_FAULTS_MOST];
};

/* Fills an error that is still empty (code PD_DONE); leaves a filled one as it is.
 * file and item may be NULL.  The text is printf style and is cut at PD_TEXT_MOST.
 * Returns false always, so that a function can `return pd_error_set(...)`. */
bool pd_error_set(struct pd_error *error, enum pd_code code, const char *file, int line,
                  const char *item, const char *format, ...) __attribute__((format(printf, 6, 7)));

/* Sets an error to PD_SOLVER_FAILED: memory ran out.  Returns false. */
bool pd_error_memory(struct pd_error *error);

/* As pd_error_set, for an output that failed: `cannot WHAT: ` and what errno says.
 * Returns false always. */
bool pd_error_output(struct pd_error *error, const char *path, const char *what);

/* Writes `path:line: item: text` and a newline, leaving out what the error does not name; fit for a
 * terminal, whatever names and values hold. */
void pd_error_print(FILE *stream, const struct pd_error *error);

/* Adds one fault of the input (code PD_BAD_INPUT).  Returns false always. */
bool pd_faults_add(struct pd_faults *faults, const char *file, int line, const char *item,
                   const char *format, ...) __attribute__((format(printf, 5, 6)));

/* Writes every kept fault, a line each, and how many more there were. */
void pd_faults_print(FILE *stream, const struct pd_faults *faults);

#endif
