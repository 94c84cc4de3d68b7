/* Paths of the files of a scenario, and what stands there. */
#ifndef PD_SCENARIO_PATH_H
#define PD_SCENARIO_PATH_H

#include <pumpday/error.h>

/* What stands at a path. */
enum pd_presence { PD_ABSENT, PD_FILE, PD_FOLDER, PD_OTHER, PD_UNKNOWN };
enum pd_presence pd_presence_of(const char *path);

/* folder/name into path of PD_PATH_MOST bytes; name may be NULL.  False if it is too long. */
bool pd_path_join(char *path, const char *folder, const char *name);

#endif
