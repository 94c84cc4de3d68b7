/* Looks for the scripts beside the program: a source tree has them in plots/, an installation in
 * share/pumpday/plots. */
#include "cli/scripts.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Seen from the folder of the program: installed, built in build/, built in build/KIND/. */
static const char *const places[] = {"../share/pumpday/plots", "../plots", "../../plots"};

/* What every folder of scripts has. */
static const char shared[] = "common.gp";

static bool has_scripts(const char *folder)
{
    char path[PD_PATH_MOST];

    return pd_text_path(path, PD_PATH_MOST, folder, shared) && access(path, R_OK) == 0;
}

/* The program's own folder, where the system tells it; else the one it is run in. */
static void program_folder(char folder[PD_PATH_MOST])
{
    ssize_t length = readlink("/proc/self/exe", folder, PD_PATH_MOST - 1);

    folder[length > 0 ? length : 0] = '\0';
    char *slash = strrchr(folder, '/');
    if (slash == NULL) {
        (void)snprintf(folder, PD_PATH_MOST, "build");
        return;
    }
    *slash = '\0';
}

static bool look_beside_program(char folder[PD_PATH_MOST])
{
    char program[PD_PATH_MOST];

    program_folder(program);
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        if (pd_text_path(folder, PD_PATH_MOST, program, places[i]) && has_scripts(folder)) {
            return true;
        }
    }
    return false;
}

bool scripts_find(const char *given, char folder[PD_PATH_MOST], struct pd_error *error)
{
    const char *named = given != NULL ? given : getenv("PUMPDAY_PLOTS");

    if (named == NULL || named[0] == '\0') {
        return look_beside_program(folder) ||
               pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL,
                            "the scripts of the charts stand neither beside the program nor in an "
                            "installation; name their folder with --scripts or PUMPDAY_PLOTS");
    }
    if (strlen(named) >= PD_PATH_MOST || !has_scripts(named)) {
        return pd_error_set(error, PD_OUTPUT_FAILED, named, 0, NULL,
                            "no folder of scripts: it has no %s", shared);
    }
    memcpy(folder, named, strlen(named) + 1);
    return true;
}
