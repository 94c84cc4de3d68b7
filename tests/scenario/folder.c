/* Scratch folders under the system's place for such things. */
#include "scenario/folder.h"

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const char folder_site[] = "item,value,unit,note\n"
                           "supply.kind,main,,\n"
                           "supply.pressure,2,bar,\n"
                           "service.length,20,m,\n"
                           "service.diameter,25,mm,\n"
                           "tank.volume,24,L,\n";

const char folder_pump[] = "flow [L/min],head [m],power [W]\n"
                           "0,38,450\n"
                           "40,33,650\n"
                           "80,18,760\n";

const char folder_demand[] = "time,flow [L/min],duration [s],volume [L],fixture\n"
                             "06:30,8,60,,tap\n"
                             "07:00,9,,6,cistern\n";

bool folder_make(struct folder *folder)
{
    (void)snprintf(folder->path, sizeof folder->path, "/tmp/pumpday-test-XXXXXX");
    bool made = mkdtemp(folder->path) != NULL;
    CU_ASSERT_FATAL(made);
    return made;
}

static void join(char *path, size_t size, const struct folder *folder, const char *name)
{
    (void)snprintf(path, size, "%s/%s", folder->path, name);
}

void folder_write(const struct folder *folder, const char *name, const char *bytes, size_t size)
{
    char path[128];
    join(path, sizeof path, folder, name);
    FILE *file = fopen(path, "wb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    CU_ASSERT_EQUAL(fwrite(bytes, 1, size, file), size);
    CU_ASSERT_EQUAL(fclose(file), 0);
}

void folder_write_text(const struct folder *folder, const char *name, const char *text)
{
    folder_write(folder, name, text, strlen(text));
}

void folder_fill(const struct folder *folder)
{
    folder_write_text(folder, "site.csv", folder_site);
    folder_write_text(folder, "pump.csv", folder_pump);
    folder_write_text(folder, "demand.csv", folder_demand);
}

void folder_remove(const struct folder *folder)
{
    static const char *const names[] = {"site.csv",   "pump.csv",      "demand.csv", "profile.csv",
                                        "supply.csv", "household.csv", "tariff.csv"};
    char path[128];
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        join(path, sizeof path, folder, names[i]);
        (void)remove(path);
    }
    CU_ASSERT_EQUAL(rmdir(folder->path), 0);
}
