/* Other folders beside one that is drawn: scripts read their files for ranges that all share. */
#ifndef PUMPDAY_OUTPUT_PLOT_BESIDE_H
#define PUMPDAY_OUTPUT_PLOT_BESIDE_H

#include <pumpday/error.h>

/* Links each of the other folders, by number from 1 on, into the folder aside, so that a script's
 * names for them are its own.  False and PD_BAD_INPUT if a file of the folder has other columns or
 * units in one of them, or is not there; PD_OUTPUT_FAILED if no link can be made. */
bool plot_link_others(const char *folder, const char *const *others, size_t count,
                      const char *aside, struct pd_error *error);

/* A path that holds in any working folder.  False if it is too long, or there is none. */
bool plot_make_absolute(char absolute[PD_PATH_MOST], const char *path);

#endif
