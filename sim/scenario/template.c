/* Writes a scenario to start from: an invented house that runs as it is.  site.csv comes from the
 * table of items, so that it never lags behind it. */
#include <pumpday/scenario.h>

#include "scenario/items.h"
#include "scenario/table.h"

#include <ctype.h>
#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Values of the invented house for items that have no default: a main so weak that one of the
 * strategies leaves the taps short. */
struct example {
    enum pd_item item;
    const char *value;
    const char *unit;
};

static const struct example examples[] = {
    {PD_TITLE, "example house", ""},    {PD_SUPPLY_KIND, "main", ""},
    {PD_SUPPLY_PRESSURE, "1.4", "bar"}, {PD_SERVICE_LENGTH, "30", "m"},
    {PD_SERVICE_DIAMETER, "26", "mm"},  {PD_TANK_VOLUME, "24", "L"},
};

static const char pump_text[] = "# The pump's points: flow rises from 0, head falls or stays; the "
                                "power is what the motor draws.\n"
                                "flow [L/min],head [m],power [W],npsh_required [m]\n"
                                "0,30,330,1.5\n"
                                "15,29,410,1.6\n"
                                "30,26.5,480,1.9\n"
                                "45,22,530,2.5\n"
                                "60,15.5,560,3.4\n";

static const char demand_text[] =
    "# A row a draw: a tap opened at a time, for a duration or until a volume is drawn.\n"
    "# Flows are those at demand.reference_pressure.\n"
    "time,flow [L/min],duration [s],volume [L],fixture\n"
    "05:50,8,,6,toilet cistern\n"
    "05:52,5,20,,basin\n"
    "06:15,10,360,,shower\n"
    "06:25,8,,6,toilet cistern\n"
    "06:30,10,300,,shower\n"
    "06:31,10,240,,second shower\n"
    "06:33,6,30,,kitchen tap\n"
    "06:45,6,45,,kitchen tap\n"
    "07:05,8,,6,toilet cistern\n"
    "07:06,5,20,,basin\n"
    "08:30,9,,12,washing machine\n"
    "08:52,9,,14,washing machine\n"
    "09:10,9,,14,washing machine\n"
    "10:20,8,,6,toilet cistern\n"
    "12:05,6,60,,kitchen tap\n"
    "12:40,6,40,,kitchen tap\n"
    "13:15,8,,6,toilet cistern\n"
    "16:00,5,30,,basin\n"
    "17:45,6,90,,kitchen tap\n"
    "18:20,6,40,,kitchen tap\n"
    "18:30,8,,4,dishwasher\n"
    "18:45,14,900,,garden hose\n"
    "18:50,10,300,,shower\n"
    "18:52,6,45,,kitchen tap\n"
    "18:55,8,,4,dishwasher\n"
    "19:30,12,,110,bath\n"
    "20:10,8,,6,toilet cistern\n"
    "21:40,5,30,,basin\n"
    "22:15,8,,6,toilet cistern\n";

static const struct example *find_example(enum pd_item item)
{
    for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
        if (examples[i].item == item) {
            return &examples[i];
        }
    }
    return NULL;
}

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

static void write_item(FILE *file, enum pd_item item)
{
    const struct pd_item_row *row = &pd_items[item];
    const struct example *example = find_example(item);
    char value[64];
    if (new_group(item)) {
        (void)fputc('\n', file);
    }
    if (example != NULL) {
        (void)fprintf(file, "%s,%s,%s", row->name, example->value, example->unit);
    } else if (isnan(row->fallback)) {
        // optional and worked out where it is missing: to be uncommented
        (void)fprintf(file, "# %s,,%s", row->name, row->unit);
    } else {
        pd_item_default_text(item, value, sizeof value);
        (void)fprintf(file, "%s,%s,%s", row->name, value, row->unit);
    }
    write_note(file, row);
}

static void write_site(FILE *file)
{
    (void)fputs("# An invented house to start from.  Any unit of the right kind may be written.\n"
                "# A line that begins with # does not count; take the mark away and write a value "
                "to set the item.\n"
                "item,value,unit,note\n",
                file);
    for (size_t i = 0; i < PD_ITEM_COUNT; i++) {
        write_item(file, (enum pd_item)i);
    }
}

static void write_pump(FILE *file)
{
    (void)fputs(pump_text, file);
}

static void write_demand(FILE *file)
{
    (void)fputs(demand_text, file);
}

/* The files of the template. */
static const struct {
    const char *name;
    void (*write)(FILE *file);
} files[] = {{"site.csv", write_site}, {"pump.csv", write_pump}, {"demand.csv", write_demand}};

enum { FILE_COUNT = sizeof files / sizeof files[0] };

// one whole file that was not there before
static bool write_file(const char *path, void (*write)(FILE *file), struct pd_error *error)
{
    FILE *file = fopen(path, "wx");
    if (file == NULL) {
        return pd_error_set(error, PD_OUTPUT_FAILED, path, 0, NULL, "cannot be written: %s",
                            strerror(errno));
    }
    write(file);
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
static bool write_files(const char *folder, struct pd_error *error)
{
    char path[PD_PATH_MOST];
    size_t written = 0;
    while (written < FILE_COUNT && pd_path_join(path, folder, files[written].name) &&
           write_file(path, files[written].write, error)) {
        written++;
    }
    if (written == FILE_COUNT) {
        return true;
    }
    while (written > 0) {
        if (pd_path_join(path, folder, files[--written].name)) {
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

bool pd_scenario_write_template(const char *folder, struct pd_error *error)
{
    enum pd_presence presence = pd_presence_of(folder);
    if (presence == PD_FILE || presence == PD_OTHER) {
        return pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, NULL,
                            "is no folder, expected a new or empty one");
    }
    if (presence == PD_FOLDER) {
        return is_empty(folder, error) && write_files(folder, error);
    }
    if (mkdir(folder, 0777) != 0) {
        return pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, NULL, "cannot be made: %s",
                            strerror(errno));
    }
    if (!write_files(folder, error)) {
        (void)rmdir(folder);
        return false;
    }
    return true;
}
