/* Reads what is on offer: a row a pump, or a row a tank. */
#include "scenario/columns.h"
#include "scenario/path.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include "base/text.h"

#include <pumpday/catalogue.h>

#include <math.h>
#include <string.h>

enum { PUMP_NAME, PUMP_FILE, PUMP_PRICE, PUMP_MOTOR, PUMP_COLUMNS };

static const struct pd_column pump_columns[] = {
    [PUMP_NAME] = {"name", {PD_KIND_TEXT, "", 0, 0}, false, true},
    [PUMP_FILE] = {"file", {PD_KIND_TEXT, "", 0, 0}, false, true},
    [PUMP_PRICE] = {"price", {PD_KIND_NUMBER, "", 0, 1e9}, false, true},
    [PUMP_MOTOR] = {"motor_power", {PD_KIND_POWER, "kW", 0.01, 500}, false, false},
};
_Static_assert(sizeof pump_columns / sizeof pump_columns[0] == PUMP_COLUMNS, "a row for each");

enum { TANK_NAME, TANK_VOLUME, TANK_PRICE, TANK_RATED, TANK_COLUMNS };

static const struct pd_column tank_columns[] = {
    [TANK_NAME] = {"name", {PD_KIND_TEXT, "", 0, 0}, false, true},
    [TANK_VOLUME] = {"volume", {PD_KIND_VOLUME, "L", 0.05, 20000}, false, true},
    [TANK_PRICE] = {"price", {PD_KIND_NUMBER, "", 0, 1e9}, false, true},
    [TANK_RATED] = {"rated_pressure", {PD_KIND_PRESSURE, "bar", 0.5, 100}, false, false},
};
_Static_assert(sizeof tank_columns / sizeof tank_columns[0] == TANK_COLUMNS, "a row for each");

static bool read_name(const struct pd_row *row, char name[PD_OFFER_NAME_MOST])
{
    const char *text = pd_row_text(row, 0);

    return (text[0] != '\0' && pd_text_trim(name, PD_OFFER_NAME_MOST, text, strlen(text))) ||
           pd_row_wrong(row, 0, NULL, "a name of 1 to 31 bytes");
}

/* A number that need not be there. */
static bool read_optional(const struct pd_row *row, size_t column, double *value)
{
    *value = NAN;
    return pd_row_text(row, column)[0] == '\0' ||
           pd_heads_number(row->heads, row->table, row->number, column, value, row->faults);
}

static bool read_number(const struct pd_row *row, size_t column, double *value)
{
    return pd_heads_number(row->heads, row->table, row->number, column, value, row->faults);
}

/* The pump's points, in a file that is named from the folder of the catalogue. */
static bool read_points(const struct pd_row *row, struct pd_pump_offer *offer)
{
    const char *text = pd_row_text(row, PUMP_FILE);
    const char *stroke = strrchr(row->table->path, '/');
    char folder[PD_PATH_MOST] = ".", path[PD_PATH_MOST];
    int leaning = 0;

    if (text[0] == '\0') {
        return pd_row_wrong(row, PUMP_FILE, NULL, "the path of a file with the pump's points");
    }
    if (stroke != NULL && stroke > row->table->path) {
        size_t length = (size_t)(stroke - row->table->path);
        memcpy(folder, row->table->path, length);
        folder[length] = '\0';
    }
    bool joined =
        text[0] == '/' ? pd_path_join(path, text, NULL) : pd_path_join(path, folder, text);
    if (!joined) {
        return pd_row_wrong(row, PUMP_FILE, NULL, "a shorter path");
    }
    return pd_read_pump_file(path, &offer->points, &leaning, row->faults);
}

/* Names tell offers apart. */
static bool wrong_name(const struct pd_row *row)
{
    return pd_row_wrong(row, 0, NULL, "a name that no row before this one has");
}

static bool read_pump(const struct pd_row *row, struct pd_catalogue *catalogue)
{
    struct pd_pump_offer *offer = &catalogue->pumps[catalogue->pump_count++];
    bool good = pd_heads_row_fits(row->table, row->number, row->faults);

    good = read_name(row, offer->name) && good;
    for (size_t i = 0; i + 1 < catalogue->pump_count && good; i++) {
        good = strcmp(catalogue->pumps[i].name, offer->name) != 0 || wrong_name(row);
    }
    good = read_number(row, PUMP_PRICE, &offer->price) && good;
    good = read_optional(row, PUMP_MOTOR, &offer->motor_power) && good;
    return read_points(row, offer) && good;
}

static bool read_tank(const struct pd_row *row, struct pd_catalogue *catalogue)
{
    struct pd_tank_offer *offer = &catalogue->tanks[catalogue->tank_count++];
    bool good = pd_heads_row_fits(row->table, row->number, row->faults);

    good = read_name(row, offer->name) && good;
    for (size_t i = 0; i + 1 < catalogue->tank_count && good; i++) {
        good = strcmp(catalogue->tanks[i].name, offer->name) != 0 || wrong_name(row);
    }
    good = read_number(row, TANK_VOLUME, &offer->volume) && good;
    good = read_number(row, TANK_PRICE, &offer->price) && good;
    return read_optional(row, TANK_RATED, &offer->rated_pressure) && good;
}

static bool read_rows(struct pd_table *table, const struct pd_column *columns, size_t count,
                      bool (*read)(const struct pd_row *row, struct pd_catalogue *catalogue),
                      struct pd_catalogue *catalogue, struct pd_faults *faults)
{
    struct pd_heads heads;
    bool good = !table->damaged;

    if (!pd_heads_read(&heads, columns, count, table, faults)) {
        return false;
    }
    if (table->row_count <= 1) {
        return good && pd_faults_add(faults, table->path, 0, NULL,
                                     "no rows below the column heads, expected an offer in each");
    }
    for (size_t number = 1; number < table->row_count; number++) {
        struct pd_row row = {&heads, table, number, faults};
        good = read(&row, catalogue) && good;
    }
    return good;
}

static bool read_file(const char *path, const struct pd_column *columns, size_t count,
                      bool (*read)(const struct pd_row *row, struct pd_catalogue *catalogue),
                      struct pd_catalogue *catalogue, struct pd_faults *faults)
{
    struct pd_table table = {.row_count = 0};

    if (!pd_path_join(table.path, path, NULL)) {
        return pd_faults_add(faults, NULL, 0, NULL, "the path of the catalogue is too long");
    }
    bool good = pd_table_read(&table, PD_OFFERS_MOST, faults) &&
                read_rows(&table, columns, count, read, catalogue, faults);
    pd_table_free(&table);
    return good;
}

bool pd_catalogue_read_pumps(const char *path, struct pd_catalogue *catalogue,
                             struct pd_faults *faults)
{
    catalogue->pump_count = 0;
    return read_file(path, pump_columns, PUMP_COLUMNS, read_pump, catalogue, faults);
}

bool pd_catalogue_read_tanks(const char *path, struct pd_catalogue *catalogue,
                             struct pd_faults *faults)
{
    catalogue->tank_count = 0;
    return read_file(path, tank_columns, TANK_COLUMNS, read_tank, catalogue, faults);
}
