/* A picture of gnuplot's as a part of a page. */
#ifndef PUMPDAY_OUTPUT_SVG_H
#define PUMPDAY_OUTPUT_SVG_H

#include <pumpday/error.h>

/* Copies the svg element of a file into a page: as one image with a title and a description for
 * those who do not see it, and with `name` before each id in it, so that ids differ from picture
 * to picture.  name: letters, digits, dashes.  False and PD_OUTPUT_FAILED if the file cannot be
 * read or is no SVG. */
bool svg_inline(FILE *stream, const char *path, const char *name, const char *title,
                const char *description, struct pd_error *error);

#endif
