/* Links folders beside one that is drawn, once their files are seen to have the same columns. */
#include "output/plot_beside.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The files of `pumpday compare -o` whose ranges are shared. */
static const char *const compared[] = {"trace.csv", "zoom.csv",    "cycles.csv",
                                       "hours.csv", "summary.csv", "settings.csv"};

/* The first line of a file of a folder, to be freed; NULL if there is none. */
static char *first_line(const char *folder, const char *name)
{
    char path[PD_PATH_MOST];
    char *line = NULL;
    size_t size = 0;
    FILE *stream = pd_text_path(path, PD_PATH_MOST, folder, name) ? fopen(path, "r") : NULL;

    if (stream == NULL || getline(&line, &size, stream) < 0) {
        free(line);
        line = NULL;
    }
    if (stream != NULL) {
        (void)fclose(stream);
    }
    return line;
}

static bool has_same_columns(const char *folder, const char *other, struct pd_error *error)
{
    bool same = true;

    for (size_t i = 0; same && i < sizeof compared / sizeof *compared; i++) {
        char *here = first_line(folder, compared[i]);
        char *there = first_line(other, compared[i]);
        same = here == NULL || (there != NULL && strcmp(here, there) == 0);
        if (!same) {
            (void)pd_error_set(error, PD_BAD_INPUT, other, 0, NULL,
                               "cannot share axes with %s: %s %s", folder, compared[i],
                               there == NULL ? "is not there"
                                             : "has other columns; write both folders with the "
                                               "same --units");
        }
        free(here);
        free(there);
    }
    return same;
}

bool plot_make_absolute(char absolute[PD_PATH_MOST], const char *path)
{
    char here[PD_PATH_MOST];

    if (path[0] == '/') {
        int length = snprintf(absolute, PD_PATH_MOST, "%s", path);
        return length < PD_PATH_MOST;
    }
    return getcwd(here, sizeof here) != NULL && pd_text_path(absolute, PD_PATH_MOST, here, path);
}

bool plot_link_others(const char *folder, const char *const *others, size_t count,
                      const char *aside, struct pd_error *error)
{
    char target[PD_PATH_MOST];
    char link[PD_PATH_MOST];
    char number[24];

    for (size_t i = 0; i < count; i++) {
        (void)snprintf(number, sizeof number, "%zu", i + 1);
        if (!has_same_columns(folder, others[i], error)) {
            return false;
        }
        if (!plot_make_absolute(target, others[i]) ||
            !pd_text_path(link, PD_PATH_MOST, aside, number) || symlink(target, link) != 0) {
            return pd_error_output(error, others[i], "look into the folder");
        }
    }
    return true;
}
