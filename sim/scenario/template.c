/* Writes a scenario to start from: an invented house that runs as it is.  site.csv comes from the
 * table of items, so that it never lags behind it. */
#include <pumpday/scenario.h>

#include "base/text.h"
#include "scenario/invented.h"
#include "scenario/items.h"
#include "scenario/path.h"
#include "scenario/table.h"

#include <ctype.h>
#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

// the part of a name before the dot says which group an item belongs to
static bool new_group(size_t item)
{
    const char *name = pd_items[item].name;
    return item > 0 && strncmp(name, pd_items[item - 1].name, strcspn(name, ".") + 1) != 0;
}

// what the item means and what it may be; no text in the table of items has quotes
static void write_note(FILE *file, const struct pd_item_row *row)
{
    static const char none[] = "none; ";
    (void)fprintf(file, ",\"%s", row->help);
    if (row->choices != NULL) {
        (void)fprintf(file, " %s.", row->choices);
    }
    // "none; a main needs it": what needs it says more than that there is none
    if (row->worked_out != NULL && strncmp(row->worked_out, none, strlen(none)) == 0) {
        const char *rest = row->worked_out + strlen(none);
        (void)fprintf(file, " %c%s.", toupper((unsigned char)rest[0]), rest + 1);
    } else if (row->worked_out != NULL) {
        (void)fprintf(file, " Unless given: %s.", row->worked_out);
    }
    (void)fputs("\"\n", file);
}

// the unit itself where it is at home in the system, else the one that the system shows
static const char *unit_in(enum pd_kind kind, const char *unit, enum pd_unit_system units)
{
    int wanted = units == PD_UNITS_US ? 1 : -1;
    // plates of motors
    if (units == PD_UNITS_US && strcmp(unit, "kW") == 0) {
        return "hp";
    }
    return pd_unit_leaning(kind, unit) * wanted < 0 ? pd_unit_shown(kind, units) : unit;
}

// a number turned from one unit into another, to so many digits: an invented house has round
// figures
static void number_in(char *text, size_t size, enum pd_kind kind, double value, const char *from,
                      const char *to, int digits)
{
    const struct pd_unit *old = pd_unit_find(kind, from), *new = pd_unit_find(kind, to);
    bool same = old == NULL || new == NULL || old == new;
    (void)snprintf(text, size, "%.*g", same ? 10 : digits,
                   same ? value : pd_unit_from_si(new, pd_unit_to_si(old, value)));
}

// value and unit of an item, an example's or the default
static void write_value(FILE *file, enum pd_item item, const char *value, const char *unit,
                        const struct pd_template *template)
{
    const struct pd_item_row *row = &pd_items[item];
    // sizes of tanks are a list, and so a text
    enum pd_kind kind = item == PD_TANK_SIZES ? PD_KIND_VOLUME : row->kind;
    const char *shown = unit_in(kind, unit, template->units);
    char text[64];
    double number;
    // a default stays what it is, a figure of the house is round
    int digits = invented_item(template->kind, item) != NULL ? 2 : 6;
    if (pd_text_number(value, &number, NULL) == PD_NUMBER_GOOD) {
        number_in(text, sizeof text, kind, number, unit, shown, digits);
        value = text;
    }
    (void)fprintf(file, "%s,%s,%s", row->name, value, shown);
}

static void write_item(FILE *file, enum pd_item item, const struct pd_template *template)
{
    const struct pd_item_row *row = &pd_items[item];
    const struct invented_item *example = invented_item(template->kind, item);
    char value[64];
    if (new_group(item)) {
        (void)fputc('\n', file);
    }
    if (example != NULL) {
        write_value(file, item, example->value, example->unit, template);
    } else {
        // optional and worked out where it is missing: to be uncommented
        (void)fputs(isnan(row->fallback) ? "# " : "", file);
        pd_item_default_text(item, value, sizeof value);
        write_value(file, item, value, row->unit, template);
    }
    write_note(file, row);
}

static void write_site(FILE *file, const struct pd_template *template)
{
    (void)fputs("# An invented house to start from.  Any unit of the right kind may be written.\n"
                "# A line that begins with # does not count; take the mark away and write a value "
                "to set the item.\n"
                "item,value,unit,note\n",
                file);
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        write_item(file, (enum pd_item)i, template);
    }
}

// a cell and the comma before it
static void write_cell(FILE *file, enum pd_kind kind, double value, const char *unit,
                       enum pd_unit_system units)
{
    char text[64];
    number_in(text, sizeof text, kind, value, unit, unit_in(kind, unit, units), 2);
    (void)fprintf(file, ",%s", text);
}

static void write_pump(FILE *file, const struct pd_template *template)
{
    enum pd_unit_system units = template->units;
    static const enum pd_kind kinds[] = {PD_KIND_FLOW, PD_KIND_HEAD, PD_KIND_POWER, PD_KIND_HEAD};
    static const char *const si[] = {"L/min", "m", "W", "m"};
    const char *head = unit_in(PD_KIND_HEAD, "m", units);
    char text[64];
    (void)fprintf(file,
                  "# The pump's points: flow rises from 0, head falls or stays; the power is what "
                  "the motor draws.\n"
                  "flow [%s],head [%s],power [W],npsh_required [%s]\n",
                  unit_in(PD_KIND_FLOW, "L/min", units), head, head);
    size_t count;
    const invented_point *points = invented_pump(template->kind, &count);
    for (size_t i = 0; i < count; i++) {
        number_in(text, sizeof text, kinds[0], points[i][0], si[0], unit_in(kinds[0], si[0], units),
                  2);
        (void)fputs(text, file);
        for (size_t j = 1; j < sizeof kinds / sizeof kinds[0]; j++) {
            write_cell(file, kinds[j], points[i][j], si[j], units);
        }
        (void)fputc('\n', file);
    }
}

static void write_demand(FILE *file, const struct pd_template *template)
{
    enum pd_unit_system units = template->units;
    (void)fprintf(file,
                  "# A row a draw: a tap opened at a time, for a duration or until a volume is "
                  "drawn.\n"
                  "# Flows are those at demand.reference_pressure.\n"
                  "time,flow [%s],duration [s],volume [%s],fixture\n",
                  unit_in(PD_KIND_FLOW, "L/min", units), unit_in(PD_KIND_VOLUME, "L", units));
    for (size_t i = 0; i < invented_draw_count; i++) {
        const struct invented_draw *draw = &invented_draws[i];
        (void)fputs(draw->time, file);
        write_cell(file, PD_KIND_FLOW, draw->flow, "L/min", units);
        (void)fprintf(file, ",%s", draw->duration);
        if (isnan(draw->volume)) {
            (void)fputc(',', file);
        } else {
            write_cell(file, PD_KIND_VOLUME, draw->volume, "L", units);
        }
        (void)fprintf(file, ",%s\n", draw->fixture);
    }
}

// a number that is not there leaves its cell empty
static void write_figure(FILE *file, enum pd_kind kind, double si, const char *unit)
{
    if (isnan(si)) {
        (void)fputc(',', file);
    } else {
        (void)fprintf(file, ",%.4g", pd_unit_from_si(pd_unit_find(kind, unit), si));
    }
}

static void write_household(FILE *file, const struct pd_template *template)
{
    const char *flow = unit_in(PD_KIND_FLOW, "L/min", template->units);
    const char *volume = unit_in(PD_KIND_VOLUME, "L", template->units);
    struct pd_use uses[PD_USES_MOST];
    size_t count = pd_household_usual(template->dwellings, template->people, uses);
    (void)fprintf(
        file,
        "# What water is used for by %g dwelling%s of %g people each: chances, from which "
        "`pumpday days` draws days.\n"
        "# Figures fitted to two open records of draws: a flat with one occupant in 2019 "
        "(Di Mauro et al., WEUSEDTO,\n"
        "# CC BY 4.0) and a house of five in 2020 (Utah Center for Hydrologic Information "
        "and Computing, CIWS-VisChallenge,\n"
        "# BSD 3-Clause); flows of dishwashers from Hendron and Burch, ASME ES2007.  "
        "Flows are those at\n"
        "# demand.reference_pressure.  A spread is the standard deviation over the mean; "
        "hours are the name of a profile\n"
        "# (even, taps, wc, shower, laundry, dishes) or 24 weights with spaces between.\n"
        "use,draws_per_day,flow [%s],flow_spread,duration [s],volume [%s],spread,law,"
        "weekday,weekend,day_spread,cluster,gap [s],hours\n",
        template->dwellings, template->dwellings == 1 ? "" : "s", template->people, flow, volume);
    for (size_t i = 0; i < count; i++) {
        const struct pd_use *use = &uses[i];
        (void)fprintf(file, "%s,%.4g", use->name, use->draws_per_day);
        write_figure(file, PD_KIND_FLOW, use->flow, flow);
        (void)fprintf(file, ",%.4g", use->flow_spread);
        write_figure(file, PD_KIND_TIME, use->duration, "s");
        write_figure(file, PD_KIND_VOLUME, use->volume, volume);
        (void)fprintf(file, ",%.4g,%s,%.4g,%.4g,%.3g,%.4g,%.4g,%s\n", use->spread,
                      use->law == PD_LAW_GAMMA ? "gamma" : "lognormal", use->weekday, use->weekend,
                      use->day_spread, use->cluster, use->gap, use->name);
    }
}

/* A file of the template. */
struct template_file {
    const char *name;
    void (*write)(FILE *file, const struct pd_template *template);
};

enum { FILE_COUNT = 3 };

static const struct template_file *file_of(const struct pd_template *template, size_t which)
{
    static const struct template_file files[FILE_COUNT] = {
        {"site.csv", write_site}, {"pump.csv", write_pump}, {"demand.csv", write_demand}};
    static const struct template_file household = {"household.csv", write_household};
    bool drawn = which + 1 == FILE_COUNT && template->dwellings > 0;
    return drawn ? &household : &files[which];
}

// one whole file that was not there before
static bool write_file(const char *path, const struct template_file *which,
                       const struct pd_template *template, struct pd_error *error)
{
    FILE *file = fopen(path, "wx");
    if (file == NULL) {
        return pd_error_set(error, PD_OUTPUT_FAILED, path, 0, NULL, "cannot be written: %s",
                            strerror(errno));
    }
    which->write(file, template);
    bool good = ferror(file) == 0;
    good = fclose(file) == 0 && good;
    if (!good) {
        (void)unlink(path);
        return pd_error_set(error, PD_OUTPUT_FAILED, path, 0, NULL, "cannot be written: %s",
                            strerror(errno));
    }
    return true;
}

// all files, or none
static bool write_files(const char *folder, const struct pd_template *template,
                        struct pd_error *error)
{
    char path[PD_PATH_MOST];
    size_t written = 0;
    while (written < FILE_COUNT && pd_path_join(path, folder, file_of(template, written)->name) &&
           write_file(path, file_of(template, written), template, error)) {
        written++;
    }
    if (written == FILE_COUNT) {
        return true;
    }
    while (written > 0) {
        if (pd_path_join(path, folder, file_of(template, --written)->name)) {
            (void)unlink(path);
        }
    }
    return pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, NULL, "the path is too long");
}

static bool is_empty(const char *folder, struct pd_error *error)
{
    DIR *entries = opendir(folder);
    if (entries == NULL) {
        return pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, NULL, "cannot be opened: %s",
                            strerror(errno));
    }
    const struct dirent *entry = readdir(entries);
    while (entry != NULL && (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)) {
        entry = readdir(entries);
    }
    (void)closedir(entries);
    return entry == NULL || pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, NULL,
                                         "the folder is not empty, expected a new or empty one");
}

bool pd_scenario_write_template(const char *folder, const struct pd_template *template,
                                struct pd_error *error)
{
    enum pd_presence presence = pd_presence_of(folder);
    if (presence == PD_FILE || presence == PD_OTHER) {
        return pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, NULL,
                            "is no folder, expected a new or empty one");
    }
    if (presence == PD_FOLDER) {
        return is_empty(folder, error) && write_files(folder, template, error);
    }
    if (mkdir(folder, 0777) != 0) {
        return pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, NULL, "cannot be made: %s",
                            strerror(errno));
    }
    if (!write_files(folder, template, error)) {
        (void)rmdir(folder);
        return false;
    }
    return true;
}
