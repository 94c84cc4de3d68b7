/* A set of result files in one folder, written whole or not at all. */
#ifndef PUMPDAY_OUTPUT_OUTPUTS_H
#define PUMPDAY_OUTPUT_OUTPUTS_H

#include <pumpday/error.h>

enum { PD_OUTPUTS_MOST = 8 };

/* One file: written aside, under a name of its own in the same folder, until all are good. */
struct pd_output_file {
    FILE *stream;
    char target[PD_PATH_MOST];
    char aside[PD_PATH_MOST];
    char old[PD_PATH_MOST]; /* the earlier file, kept until the whole set stands */
    bool has_aside, has_old, in_place;
};

struct pd_outputs {
    char folder[PD_PATH_MOST];
    size_t made_from; /* length of the first part of the folder's path that was made; 0: none */
    size_t count;
    struct pd_output_file file[PD_OUTPUTS_MOST];
};

/* Makes the folder if need be and opens a file aside for each name, in the order of the names.
 * count 1 to PD_OUTPUTS_MOST.  On false there is nothing to discard and nothing is left behind. */
bool pd_outputs_open(struct pd_outputs *outputs, const char *folder, const char *const *names,
                     size_t count, struct pd_error *error);

/* Whether a file could be written into a folder by now; nothing is left behind. */
bool pd_outputs_try(const char *folder, struct pd_error *error);

/* Checks that every file is on the disk and then moves them all to their names.  On false the
 * earlier files stand as they were.  Either way the set is closed. */
bool pd_outputs_commit(struct pd_outputs *outputs, struct pd_error *error);

/* Drops what was written aside, and the folder if it was made; earlier files stay as they were. */
void pd_outputs_discard(struct pd_outputs *outputs);

#endif
