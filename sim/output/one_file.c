/* Cuts a path into folder and name for a set of one file. */
#include "output/one_file.h"

#include <string.h>

bool pd_one_file_open(struct pd_outputs *outputs, const char *path, struct pd_error *error)
{
    char folder[PD_PATH_MOST];
    const char *stroke = strrchr(path, '/');
    const char *name = stroke != NULL ? stroke + 1 : path;
    // a file right under the root keeps its stroke
    size_t length = stroke == NULL ? 0 : stroke == path ? 1 : (size_t)(stroke - path);

    if (name[0] == '\0') {
        return pd_error_set(error, PD_OUTPUT_FAILED, path, 0, NULL, "is no name of a file");
    }
    if (length >= sizeof folder) {
        return pd_error_set(error, PD_OUTPUT_FAILED, path, 0, NULL, "the path is too long");
    }
    memcpy(folder, length > 0 ? path : ".", length > 0 ? length : 1);
    folder[length > 0 ? length : 1] = '\0';
    return pd_outputs_open(outputs, folder, &name, 1, error);
}

bool pd_one_file_try(const char *path, struct pd_error *error)
{
    struct pd_outputs outputs;

    if (!pd_one_file_open(&outputs, path, error)) {
        return false;
    }
    pd_outputs_discard(&outputs);
    return true;
}
