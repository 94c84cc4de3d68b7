/* One file at a path, written whole or not at all. */
#ifndef PUMPDAY_OUTPUT_ONE_FILE_H
#define PUMPDAY_OUTPUT_ONE_FILE_H

#include "output/outputs.h"

/* Opens it aside; its folder is made if need be.  The stream is outputs->file[0].stream.  False and
 * the error (PD_OUTPUT_FAILED) otherwise.  Then pd_outputs_commit or pd_outputs_discard. */
bool pd_one_file_open(struct pd_outputs *outputs, const char *path, struct pd_error *error);

/* Whether that could be done by now; nothing is left behind. */
bool pd_one_file_try(const char *path, struct pd_error *error);

#endif
