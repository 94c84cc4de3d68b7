/* `pumpday new`: a commented scenario to start from. */
#include "cli/commands.h"
#include "cli/options.h"

#include "base/text.h"

#include <pumpday/scenario.h>

enum { HELP, OPTION_COUNT };
enum { SHOWN_MOST = 128 };

static const struct option options[OPTION_COUNT] = {[HELP] = {"help", 'h', NULL, "this text"}};

static const struct usage usage = {
    .command = "new",
    .words = "FOLDER",
    .about = "Writes site.csv, pump.csv and demand.csv of an invented house into a new or empty "
             "folder.\nEvery item stands there with its default and its meaning.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday new my-house && pumpday compare my-house\n",
};

static int write_scenario(const char *folder)
{
    struct pd_error error = {.code = PD_DONE};
    char shown[SHOWN_MOST];

    if (!pd_scenario_write_template(folder, &error)) {
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
    const char *folder = NULL;
    const char *value;

    for (int found; (found = option_next(&reader, &value)) != OPTION_END;) {
        if (found == HELP) {
            return help_print(&usage);
        }
        if (found == OPTION_WRONG) {
            return PD_BAD_USAGE;
        }
        if (folder != NULL) {
            return usage_wrong(&usage, "one folder at a time");
        }
        folder = value;
    }
    if (folder == NULL || folder[0] == '\0') {
        return usage_wrong(&usage, "which folder? its name is missing");
    }
    return write_scenario(folder);
}
