/* The folders of scenarios/, by name, for tests that go through all of them. */
#ifndef PUMPDAY_TESTS_FOLDERS_H
#define PUMPDAY_TESTS_FOLDERS_H

#include <pumpday/day.h>

enum { FOLDERS_MOST = 64 };

struct folders {
    size_t count;
    char path[FOLDERS_MOST][PD_NAME_MOST];
};

/* Those that hold a scenario, sorted. */
void folders_list(struct folders *folders);

/* Reads one; false, and the faults are told, if it cannot be. */
bool folders_read(const char *path, struct pd_scenario *scenario);

#endif
