/* A scratch folder for scenarios that tests write. */
#ifndef TESTS_SCENARIO_FOLDER_H
#define TESTS_SCENARIO_FOLDER_H

#include <stdbool.h>
#include <stddef.h>

struct folder {
    char path[64];
};

/* A smallest good scenario: six items, three points of a pump, two draws. */
extern const char folder_site[];
extern const char folder_pump[];
extern const char folder_demand[];
enum { FOLDER_SITE_LINES = 6 };

/* Makes an empty folder.  False if the machine has no room for it. */
bool folder_make(struct folder *folder);

/* Writes the smallest good scenario into it. */
void folder_fill(const struct folder *folder);

/* Writes a file; size bytes, or a whole text. */
void folder_write(const struct folder *folder, const char *name, const char *bytes, size_t size);
void folder_write_text(const struct folder *folder, const char *name, const char *text);

/* Removes the folder and what a scenario may hold. */
void folder_remove(const struct folder *folder);

#endif
