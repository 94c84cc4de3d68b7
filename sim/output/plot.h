/* Charts of a folder of results: every script whose files are there is run.
 *
 * A script tells in its first lines what it draws:
 *   # needs: trace.csv settings.csv    run once if the folder has all of them
 *   # each: sweep*.csv                 run for each file of such a name; ARG2 is ./ and its name
 *   # but: trace.csv zoom.csv          not for these of them
 * One that tells neither is a part of others. */
#ifndef PUMPDAY_OUTPUT_PLOT_H
#define PUMPDAY_OUTPUT_PLOT_H

#include <pumpday/error.h>

enum { PD_PICTURES_MOST = 128, PD_PICTURE_NAME_MOST = 128 };

/* The pictures made, by name. */
struct pd_pictures {
    size_t count;
    char name[PD_PICTURES_MOST][PD_PICTURE_NAME_MOST];
    bool gnuplot_missing; /* why there are none */
};

/* Makes the pictures, as SVG and PNG or as SVG only, aside and moves them into the folder once
 * every script has run; files of those names are replaced.  False and the error otherwise:
 * PD_BAD_INPUT if there is nothing to draw, or a script among the files, PD_OUTPUT_FAILED if
 * gnuplot is missing or fails; then no picture is left or changed. */
bool pd_plot(const char *folder, const char *scripts, bool svg_only, struct pd_pictures *pictures,
             struct pd_error *error);

/* The same, with axes that take in the days of `count` other folders too: drawn one after the
 * other, each beside all the rest, their pictures can be laid side by side.  ARG3 of a script is
 * the count, and the folders are named 1/, 2/, ... behind ARG1.  PD_BAD_INPUT too if the folders'
 * columns are not the same. */
bool pd_plot_beside(const char *folder, const char *const *others, size_t count,
                    const char *scripts, bool svg_only, struct pd_pictures *pictures,
                    struct pd_error *error);

#endif
