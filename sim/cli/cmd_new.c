/* `pumpday new`: a commented scenario to start from. */
#include "cli/choices.h"
#include "cli/commands.h"

#include "base/text.h"

#include <pumpday/scenario.h>

enum { UNITS, HELP, OPTION_COUNT };
enum { SHOWN_MOST = 128 };

static const struct option options[OPTION_COUNT] = {
    [UNITS] = {"units", 0, "si|us", "units in which the house is written (si)"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "new",
    .words = "FOLDER",
    .about = "Writes site.csv, pump.csv and demand.csv of an invented house into a new or empty "
             "folder.\nEvery item stands there with its default and its meaning. Results come "
             "in the\nunits of the scenario.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday new my-house --units us && pumpday compare my-house\n",
};

static int write_scenario(const char *folder, enum pd_unit_system units)
{
    struct pd_error error = {.code = PD_DONE};
    char shown[SHOWN_MOST];

    if (!pd_scenario_write_template(folder, units, &error)) {
        pd_error_print(stderr, &error);
        return (int)error.code;
    }
    pd_text_show(shown, sizeof shown, folder);
    (void)printf("wrote %s: site.csv, pump.csv, demand.csv\n", shown);
    return PD_DONE;
}

int cmd_new(int argc, char **argv)
{
    struct option_reader reader = option_reader_for(&usage, argc, argv);
    enum pd_unit_system units = PD_UNITS_SI;
    const char *folder = NULL;
    const char *value;
    bool told;

    for (int found; (found = option_next(&reader, &value)) != OPTION_END;) {
        if (found == HELP) {
            return help_print(&usage);
        }
        if (found == OPTION_WRONG) {
            return PD_BAD_USAGE;
        }
        if (found == UNITS) {
            if (choose_units(&usage, &units, &told, value) != PD_DONE) {
                return PD_BAD_USAGE;
            }
            continue;
        }
        if (folder != NULL) {
            return usage_wrong(&usage, "one folder at a time");
        }
        folder = value;
    }
    if (folder == NULL || folder[0] == '\0') {
        return usage_wrong(&usage, "which folder? its name is missing");
    }
    return write_scenario(folder, units);
}
