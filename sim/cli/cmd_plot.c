/* `pumpday plot`: charts of the results in a folder. */
#include "cli/commands.h"
#include "cli/interrupt.h"
#include "cli/options.h"
#include "cli/scripts.h"

#include "base/text.h"
#include "output/plot.h"

enum { SCRIPTS, HELP, OPTION_COUNT };
enum { FOLDERS_MOST = 16 };

/* The folders, in the order given. */
struct folders {
    size_t count;
    const char *path[FOLDERS_MOST];
};

static const struct option options[OPTION_COUNT] = {
    [SCRIPTS] = {"scripts", 0, "DIR", "run the scripts of this folder, not those of the program"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "plot",
    .words = "DIR...",
    .about =
        "Draws the CSV files of a folder that `pumpday compare -o DIR` wrote, as SVG and PNG\n"
        "into the same folder: the day of each strategy, cycles per hour, energy and run\n"
        "time, one pump cycle closely, the tank's water against pressure. Sweeps in the folder\n"
        "are drawn too: lines for one varied item, a map for two. The pictures are made by\n"
        "gnuplot; each script (*.gp) may be changed or copied.\n"
        "Several folders get pictures with the same axes, to be laid side by side.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday compare scenarios/hillside-house -o out/hillside\n"
               "  pumpday plot out/hillside\n"
               "  pumpday plot out/before out/after\n",
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

/* Draws one of the folders with axes that take in the others. */
static bool draw(const struct folders *folders, size_t which, const char *scripts,
                 struct pd_error *error)
{
    const char *others[FOLDERS_MOST];
    size_t count = 0;
    struct pd_pictures pictures;

    for (size_t i = 0; i < folders->count; i++) {
        if (i != which) {
            others[count++] = folders->path[i];
        }
    }
    bool good =
        pd_plot_beside(folders->path[which], others, count, scripts, false, &pictures, error);
    if (good) {
        print_pictures(folders->path[which], &pictures);
    }
    return good;
}

static int run(const struct folders *folders, const char *given)
{
    struct pd_error error = {.code = PD_DONE};
    char scripts[PD_PATH_MOST];

    interrupt_watch();
    bool good = scripts_find(given, scripts, &error);
    for (size_t i = 0; good && i < folders->count; i++) {
        good = draw(folders, i, scripts, &error);
    }
    if (!good && interrupt_came()) {
        (void)fputs("pumpday: interrupted; the picture begun was not made\n", stderr);
        return interrupt_exit_code();
    }
    if (!good) {
        pd_error_print(stderr, &error);
        return (int)error.code;
    }
    return PD_DONE;
}

int cmd_plot(int argc, char **argv)
{
    struct option_reader reader = option_reader_for(&usage, argc, argv);
    struct folders folders = {.count = 0};
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
        } else if (value[0] == '\0') {
            return usage_wrong(&usage, "which folder? its name is missing");
        } else if (folders.count == FOLDERS_MOST) {
            return usage_wrong(&usage, "at most 16 folders at a time");
        } else {
            folders.path[folders.count++] = value;
        }
    }
    if (folders.count == 0) {
        return usage_wrong(&usage, "which folder? its name is missing");
    }
    return run(&folders, scripts);
}
