/* `pumpday items`: every item of site.csv, as a table to read or as CSV. */
#include "cli/commands.h"
#include "cli/options.h"

#include "base/text.h"
#include "output/columns.h"
#include "scenario/items.h"

#include <pumpday/scenario.h>

#include <ctype.h>
#include <math.h>
#include <string.h>

enum { CSV, HELP, OPTION_COUNT };
enum { TEXT_MOST = 400, SHOWN_MOST = 80 };

static const struct option options[OPTION_COUNT] = {
    [CSV] = {"csv", 0, NULL, "as CSV: item,kind,unit,least,most,default,meaning"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "items",
    .words = "[NAME]...",
    .about =
        "Lists the items of site.csv with their kind, limits, default and meaning: all of them,\n"
        "or those whose name contains one of the words (`precharge`, `tank.`).\n"
        "Values may be written in any unit of the kind.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday items precharge\n  pumpday items --csv > items.csv\n",
};

static bool has_limits(const struct pd_item_row *row)
{
    return row->kind != PD_KIND_TEXT && row->kind != PD_KIND_CHOICE;
}

/* "0.05 to 20000 L", or the choices. */
static void limits_text(char *text, size_t size, const struct pd_item_row *row)
{
    if (!has_limits(row)) {
        (void)snprintf(text, size, "%s", row->choices != NULL ? row->choices : "");
        return;
    }
    (void)snprintf(text, size, "%.6g to %.6g%s%s", row->least, row->most,
                   row->unit[0] != '\0' ? " " : "", row->unit);
}

/* The default as a number, a word, how it is worked out, or that there is none. */
static void default_text(char *text, size_t size, enum pd_item item)
{
    const struct pd_item_row *row = &pd_items[item];
    char value[64];

    pd_item_default_text(item, value, sizeof value);
    if (row->worked_out != NULL) {
        (void)snprintf(text, size, "%s", row->worked_out);
    } else if (isnan(row->fallback)) {
        (void)snprintf(text, size, "none, must be given");
    } else {
        (void)snprintf(text, size, "%s%s%s", value, row->unit[0] != '\0' ? " " : "", row->unit);
    }
}

/* Two lines an item: what it may be, then what it means. */
static void print_table(const bool *picked)
{
    char limits[TEXT_MOST];
    char fallback[TEXT_MOST];

    (void)printf("%-32s%-19s%-32s%s\n", "item", "kind", "limits", "default");
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        const struct pd_item_row *row = &pd_items[i];
        if (!picked[i]) {
            continue;
        }
        limits_text(limits, sizeof limits, row);
        default_text(fallback, sizeof fallback, (enum pd_item)i);
        (void)printf("%-32s%-19s%-32s%s\n    %s\n", row->name, pd_kind_name(row->kind), limits,
                     fallback, row->help);
    }
}

/* One field, with what stands between it and the next. */
static void print_field(const char *text, const char *between)
{
    pd_csv_text(stdout, text);
    (void)fputs(between, stdout);
}

static void print_csv(const bool *picked)
{
    char fallback[TEXT_MOST];
    char meaning[TEXT_MOST];

    (void)printf("item,kind,unit,least,most,default,meaning\n");
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        const struct pd_item_row *row = &pd_items[i];
        if (!picked[i]) {
            continue;
        }
        default_text(fallback, sizeof fallback, (enum pd_item)i);
        print_field(row->name, ",");
        print_field(pd_kind_name(row->kind), ",");
        print_field(row->unit, ",");
        if (has_limits(row)) {
            (void)printf("%.10g,%.10g", row->least, row->most);
        } else {
            (void)printf(",");
        }
        (void)printf(",");
        print_field(fallback, ",");
        (void)snprintf(meaning, sizeof meaning, "%s%s%s%s", row->help,
                       row->choices != NULL ? " " : "", row->choices != NULL ? row->choices : "",
                       row->choices != NULL ? "." : "");
        print_field(meaning, "\n");
    }
}

/* Capital letters in the word do not matter; the names have none. */
static bool contains(const char *name, const char *word)
{
    size_t length = strlen(word);

    for (; strlen(name) >= length; name++) {
        size_t i = 0;
        while (i < length && tolower((unsigned char)word[i]) == name[i]) {
            i++;
        }
        if (i == length) {
            return true;
        }
    }
    return false;
}

/* Picks the items whose names contain the word. */
static int pick(bool picked[PD_ITEM_COUNT], const char *word)
{
    char shown[SHOWN_MOST];
    bool any = false;

    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        bool fits = contains(pd_items[i].name, word);
        picked[i] = picked[i] || fits;
        any = any || fits;
    }
    if (any) {
        return PD_DONE;
    }
    const char *nearest = pd_item_nearest(word);
    pd_text_show(shown, sizeof shown, word);
    return usage_wrong(&usage, "no item has \"%s\" in its name%s%s", shown,
                       nearest != NULL ? ", perhaps " : "", nearest != NULL ? nearest : "");
}

int cmd_items(int argc, char **argv)
{
    bool picked[PD_ITEM_COUNT] = {false};
    bool all = true;
    struct option_reader reader = option_reader_for(&usage, argc, argv);
    const char *value;
    bool csv = false;

    for (int found; (found = option_next(&reader, &value)) != OPTION_END;) {
        if (found == HELP) {
            return help_print(&usage);
        }
        if (found == OPTION_WRONG) {
            return PD_BAD_USAGE;
        }
        csv = csv || found == CSV;
        if (found == OPTION_WORD && pick(picked, value) != PD_DONE) {
            return PD_BAD_USAGE;
        }
        all = all && found != OPTION_WORD;
    }
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        picked[i] = picked[i] || all;
    }
    if (csv) {
        print_csv(picked);
    } else {
        print_table(picked);
    }
    return PD_DONE;
}
