/* The file of a sweep while it grows: FILE.part beside the FILE that is to be, and FILE.part.key,
 * one line that tells what scenario it belongs to. */
#ifndef PUMPDAY_STUDIES_SWEEP_PART_H
#define PUMPDAY_STUDIES_SWEEP_PART_H

#include "studies/sweep_rows.h"

struct sweep_part {
    FILE *stream; /* at its end */
    char target[PD_PATH_MOST], part[PD_PATH_MOST], key[PD_PATH_MOST];
    size_t combinations; /* whole ones in it */
};

/* Opens the part of a plan's file, with its head written.  With the plan's wish to resume, the
 * whole combinations of an earlier part are kept, if they are those of this plan.  False and
 * PD_OUTPUT_FAILED otherwise, with nothing changed. */
bool sweep_part_open(struct sweep_part *part, const struct sweep_plan *plan,
                     struct pd_error *error);

/* Adds whole rows, and hands them to the system.  False and PD_OUTPUT_FAILED if it takes no more.
 */
bool sweep_part_add(struct sweep_part *part, const char *text, size_t length,
                    struct pd_error *error);

/* Leaves the part where it is. */
void sweep_part_leave(struct sweep_part *part);

/* Makes sure that all is on the disk and gives the file its name.  The part is closed either way.
 */
bool sweep_part_finish(struct sweep_part *part, struct pd_error *error);

#endif
