/* What the files that a scenario may do without have in common. */
#include "scenario/path.h"
#include "scenario/read.h"

bool pd_read_if_there(struct pd_scenario *scenario, const char *name, size_t most,
                      bool (*read)(struct pd_scenario *scenario, struct pd_table *table,
                                   struct pd_faults *faults),
                      struct pd_faults *faults)
{
    struct pd_table table = {.row_count = 0};

    // told with site.csv if the path is too long
    if (!pd_path_join(table.path, scenario->folder, name)) {
        return false;
    }
    if (pd_presence_of(table.path) == PD_ABSENT) {
        return true;
    }
    bool good = pd_table_read(&table, most, faults) && read(scenario, &table, faults);
    scenario->leaning += table.leaning;
    pd_table_free(&table);
    return good;
}
