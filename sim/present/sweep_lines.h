/* Lines of a sweep's file, read one by one and cut into fields. */
#ifndef PUMPDAY_PRESENT_SWEEP_LINES_H
#define PUMPDAY_PRESENT_SWEEP_LINES_H

#include <stdbool.h>
#include <stdio.h>

enum { PD_SWEEP_FIELDS_MOST = 48 };

/* A line cut into its fields, in place.  `text` is freed by who had it read. */
struct pd_sweep_line {
    char *text;
    size_t size; /* of the memory behind text */
    size_t count;
    const char *field[PD_SWEEP_FIELDS_MOST];
};

/* Reads the next line into memory that grows with it.  False at the end, or if memory runs out:
 * then the stream is not at its end. */
bool pd_sweep_line_read(FILE *stream, struct pd_sweep_line *line);

/* Makes one line a copy of another: fields point into its own text.  False if memory runs out. */
bool pd_sweep_line_copy(struct pd_sweep_line *to, const struct pd_sweep_line *from);

#endif
