/* Runs one gnuplot script.  No shell is between: odd names of folders and files are safe. */
#ifndef PUMPDAY_OUTPUT_GNUPLOT_H
#define PUMPDAY_OUTPUT_GNUPLOT_H

#include <pumpday/error.h>

/* One run of a script; all paths but `script` and `scripts` are relative to the folder. */
struct gnuplot_run {
    const char *folder;  /* becomes the working folder */
    const char *scripts; /* absolute: where `load` looks for what scripts share */
    const char *script;  /* absolute */
    const char *out;     /* ARG1: what is put before the names of the pictures */
    const char *file;    /* ARG2: the file, from `./` on; NULL: the script knows its files */
    size_t other_count;  /* sets `others`: folders beside this one, `out`1/, `out`2/, ... */
    const char *log;     /* takes what gnuplot says */
    bool svg_only;       /* sets `kinds`, which otherwise is "svg png" */
};

/* True if gnuplot ran to the script's end.  Else PD_OUTPUT_FAILED: it is missing (then *missing is
 * set too, the message names its package), it failed (its own words are in the message), or it was
 * stopped. */
bool gnuplot_run_script(const struct gnuplot_run *run, bool *missing, struct pd_error *error);

#endif
