/* Joins paths, and asks what stands at one. */
#include "scenario/path.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

enum pd_presence pd_presence_of(const char *path)
{
    struct stat found;
    if (stat(path, &found) != 0) {
        return errno == ENOENT || errno == ENOTDIR ? PD_ABSENT : PD_UNKNOWN;
    }
    if (S_ISDIR(found.st_mode)) {
        return PD_FOLDER;
    }
    return S_ISREG(found.st_mode) ? PD_FILE : PD_OTHER;
}

bool pd_path_join(char *path, const char *folder, const char *name)
{
    size_t length = strlen(folder);
    // no doubled stroke where the folder was given with one at its end
    while (length > 1 && folder[length - 1] == '/') {
        length--;
    }
    if (length >= PD_PATH_MOST) {
        path[0] = '\0';
        return false;
    }
    bool stroke = name != NULL && length > 0 && folder[length - 1] != '/';
    int wrote = snprintf(path, PD_PATH_MOST, "%.*s%s%s", (int)length, folder, stroke ? "/" : "",
                         name != NULL ? name : "");
    return wrote >= 0 && wrote < PD_PATH_MOST;
}
