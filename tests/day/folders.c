#include "day/folders.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

static int compare_paths(const void *left, const void *right)
{
    return strcmp(left, right);
}

void folders_list(struct folders *folders)
{
    DIR *directory = opendir("scenarios");

    folders->count = 0;
    if (directory == NULL) {
        return;
    }
    for (struct dirent *entry = readdir(directory); entry != NULL; entry = readdir(directory)) {
        if (entry->d_name[0] != '.' && folders->count < FOLDERS_MOST) {
            (void)snprintf(folders->path[folders->count++], PD_NAME_MOST, "scenarios/%.50s",
                           entry->d_name);
        }
    }
    (void)closedir(directory);
    qsort(folders->path, folders->count, sizeof folders->path[0], compare_paths);
}

bool folders_read(const char *path, struct pd_scenario *scenario)
{
    static struct pd_faults faults;

    faults.count = 0;
    if (!pd_scenario_read(path, NULL, 0, scenario, &faults)) {
        pd_faults_print(stdout, &faults);
        return false;
    }
    return true;
}
