/* `pumpday plot`: charts of the results in a folder. */
#include "cli/commands.h"
#include "cli/interrupt.h"
#include "cli/options.h"
#include "cli/scripts.h"

#include "base/text.h"
#include "output/plot.h"

enum { SCRIPTS, HELP, OPTION_COUNT };

static const struct option options[OPTION_COUNT] = {
    [SCRIPTS] = {"scripts", 0, "DIR", "run the scripts of this folder, not those of the program"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "plot",
    .words = "DIR",
    .about =
        "Draws the CSV files of a folder that `pumpday compare -o DIR` wrote, as SVG and PNG\n"
        "into the same folder: the day of each strategy, cycles per hour, energy and run\n"
        "time, one pump cycle closely, the tank's water against pressure. Sweeps in the folder\n"
        "are drawn too: lines for one varied item, a map for two. The pictures are made by\n"
        "gnuplot; each script (*.gp) may be changed or copied.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday compare scenarios/hillside-house -o out/hillside\n"
               "  pumpday plot out/hillside\n",
};

static void print_pictures(const char *folder, const struct pd_pictures *pictures)
{
    char shown[PD_PATH_MOST];
    char name[sizeof pictures->name[0]];

    pd_text_show(shown, sizeof shown, folder);
    for (size_t i = 0; i < pictures->count; i++) {
        pd_text_show(name, sizeof name, pictures->name[i]);
        (void)printf("%s/%s\n", shown, name);
    }
}

static int run(const char *folder, const char *given)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};
    char scripts[PD_PATH_MOST];

    interrupt_watch();
    bool good =
        scripts_find(given, scripts, &error) && pd_plot(folder, scripts, false, &pictures, &error);
    if (!good && interrupt_came()) {
        (void)fputs("pumpday: interrupted; no picture was made\n", stderr);
        return interrupt_exit_code();
    }
    if (!good) {
        pd_error_print(stderr, &error);
        return (int)error.code;
    }
    print_pictures(folder, &pictures);
    return PD_DONE;
}

int cmd_plot(int argc, char **argv)
{
    struct option_reader reader = option_reader_for(&usage, argc, argv);
    const char *folder = NULL;
    const char *scripts = NULL;
    const char *value;

    for (int found; (found = option_next(&reader, &value)) != OPTION_END;) {
        if (found == HELP) {
            return help_print(&usage);
        }
        if (found == OPTION_WRONG) {
            return PD_BAD_USAGE;
        }
        if (found == SCRIPTS) {
            scripts = value;
        } else if (folder != NULL) {
            return usage_wrong(&usage, "one folder at a time");
        } else {
            folder = value;
        }
    }
    if (folder == NULL || folder[0] == '\0') {
        return usage_wrong(&usage, "which folder? its name is missing");
    }
    return run(folder, scripts);
}
