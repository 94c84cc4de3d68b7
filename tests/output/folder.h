/* A folder for a test's files, and what stands in it. */
#ifndef PUMPDAY_TESTS_FOLDER_H
#define PUMPDAY_TESTS_FOLDER_H

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { FOLDER_MOST = 256 };

/* Makes an empty folder of a name that nothing else has. */
static inline void folder_make(char folder[FOLDER_MOST])
{
    const char *place = getenv("TMPDIR");

    (void)snprintf(folder, FOLDER_MOST, "%s/pumpday-test-XXXXXX", place != NULL ? place : "/tmp");
    if (mkdtemp(folder) == NULL) {
        folder[0] = '\0';
    }
}

/* How many files and folders stand in a folder, hidden ones too; -1 if there is no such folder. */
static inline int folder_count(const char *folder)
{
    DIR *entries = opendir(folder);
    int count = 0;

    if (entries == NULL) {
        return -1;
    }
    for (const struct dirent *entry; (entry = readdir(entries)) != NULL;) {
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    }
    (void)closedir(entries);
    return count;
}

/* The path of a file in a folder. */
static inline const char *folder_path(const char *folder, const char *name, char path[FOLDER_MOST])
{
    (void)snprintf(path, FOLDER_MOST, "%.200s/%.50s", folder, name);
    return path;
}

/* Removes a folder with the plain files in it. */
static inline void folder_remove(const char *folder)
{
    char path[FOLDER_MOST];
    DIR *entries = opendir(folder);

    if (entries == NULL) {
        return;
    }
    for (const struct dirent *entry; (entry = readdir(entries)) != NULL;) {
        (void)unlink(folder_path(folder, entry->d_name, path));
    }
    (void)closedir(entries);
    (void)rmdir(folder);
}

#endif
