/* The house in which the tests of fault-finding plant faults, and their noise. */
#include "studies/diagnose_house.h"

#include "scenario/folder.h"

#include <CUnit/CUnit.h>
#include <stdio.h>

const char *gas = "isothermal";

uint64_t seed;

double noise(void)
{
    seed = seed * 6364136223846793005U + 1442695040888963407U;
    return (double)(seed >> 11U) / 4503599627370496.0 - 1;
}

void read_house(const char *const *sets, size_t count, bool steady, struct pd_scenario *scenario)
{
    static struct pd_faults faults;
    struct folder folder;
    char site[512];

    faults.count = 0;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    (void)snprintf(site, sizeof site, "%stank.gas,%s,,\n", folder_site, gas);
    folder_write_text(&folder, "site.csv", site);
    folder_write_text(&folder, "demand.csv",
                      steady ? "time,flow [L/min],duration [s]\n23:59,8,1\n"
                             : "time,flow [L/min],duration [s]\n00:10,24,60\n01:00,8,1800\n");
    if (steady) {
        folder_write_text(&folder, "profile.csv", "time,flow [L/min]\n00:00,1.2\n");
    }
    bool good = pd_scenario_read(folder.path, sets, count, scenario, &faults);
    pd_faults_print(stdout, &faults);
    folder_remove(&folder);
    CU_ASSERT_TRUE_FATAL(good);
}
