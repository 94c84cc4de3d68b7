/* Reads site.csv: a row an item, each by the table of items. */
#include "scenario/codes.h"
#include "scenario/columns.h"
#include "scenario/path.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

enum { ROWS_MOST = 1000, SHOWN = 48 };
enum { COLUMN_ITEM, COLUMN_VALUE, COLUMN_UNIT, COLUMN_NOTE, COLUMN_COUNT };

static const struct pd_column columns[COLUMN_COUNT] = {
    [COLUMN_ITEM] = {"item", {PD_KIND_TEXT, "", 0, 0}, false, true},
    [COLUMN_VALUE] = {"value", {PD_KIND_TEXT, "", 0, 0}, false, true},
    [COLUMN_UNIT] = {"unit", {PD_KIND_TEXT, "", 0, 0}, false, true},
    [COLUMN_NOTE] = {"note", {PD_KIND_TEXT, "", 0, 0}, false, false},
};

void pd_tank_sizes_usual(struct pd_scenario *scenario, enum pd_unit_system units)
{
    // litres and US gallons; usual sizes of the trade, no source; told in the table of items too
    static const double litres[] = {8, 12, 18, 24, 35, 50, 60, 80, 100, 150, 200, 300, 500};
    static const double gallons[] = {2, 4.5, 8.5, 14, 20, 26, 32, 44, 52, 62, 86, 119};
    bool us = units == PD_UNITS_US;
    const double *sizes = us ? gallons : litres;
    const struct pd_unit *unit = pd_unit_find(PD_KIND_VOLUME, us ? "gal" : "L");
    scenario->tank_size_count =
        us ? sizeof gallons / sizeof gallons[0] : sizeof litres / sizeof litres[0];
    for (size_t i = 0; i < scenario->tank_size_count; i++) {
        scenario->tank_sizes[i] = pd_unit_to_si(unit, sizes[i]);
    }
}

double pd_item_default(enum pd_item item)
{
    const struct pd_item_row *row = &pd_items[item];
    const struct pd_unit *unit = pd_unit_find(row->kind, row->unit);
    return unit != NULL ? pd_unit_to_si(unit, row->fallback) : row->fallback;
}

// the place of a word in "one|two|three"; -1 if it is none of them
static int find_choice(const char *choices, const char *word)
{
    int place = 0;
    char one[32];
    const char *at = choices;
    while (at != NULL) {
        const char *end = strchr(at, '|');
        pd_text_trim(one, sizeof one, at, end != NULL ? (size_t)(end - at) : strlen(at));
        if (pd_text_same(one, word)) {
            return place;
        }
        place++;
        at = end != NULL ? end + 1 : NULL;
    }
    return -1;
}

static bool no_unit(const struct pd_place *place, const char *unit)
{
    char shown[SHOWN];
    pd_text_show(shown, sizeof shown, unit);
    return unit[0] == '\0' || pd_faults_add(place->faults, place->file, place->line, place->item,
                                            "a unit with words, got \"%s\", expected none", shown);
}

static bool take_choice(double *to, const struct pd_item_row *row, const struct pd_place *place,
                        const char *value)
{
    char shown[SHOWN];
    int choice = find_choice(row->choices, value);
    pd_text_show(shown, sizeof shown, value);
    if (choice < 0) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "none of the choices, got \"%s\", expected %s", shown, row->choices);
    }
    *to = choice;
    return true;
}

// one line of text: it goes on charts and into tables
static bool take_title(struct pd_scenario *scenario, const struct pd_place *place,
                       const char *value)
{
    char shown[SHOWN];
    pd_text_show(shown, sizeof shown, value);
    for (const char *c = value; *c != '\0'; c++) {
        if ((unsigned char)*c < 0x20 || *c == 0x7F) {
            return pd_faults_add(place->faults, place->file, place->line, place->item,
                                 "a control byte, got \"%s\", expected one line of text", shown);
        }
    }
    if (!pd_text_trim(scenario->title, sizeof scenario->title, value, strlen(value))) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "the text is too long, got \"%s\", expected at most %zu bytes", shown,
                             sizeof scenario->title - 1);
    }
    return true;
}

static bool add_size(struct pd_scenario *scenario, const struct pd_place *place, double size)
{
    size_t count = scenario->tank_size_count;
    if (count == PD_TANK_SIZES_MOST) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "too many sizes, expected at most %d", (int)PD_TANK_SIZES_MOST);
    }
    if (count > 0 && size <= scenario->tank_sizes[count - 1]) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "not rising, expected each size larger than the one before");
    }
    scenario->tank_sizes[scenario->tank_size_count++] = size;
    return true;
}

// the next word of a list, moving on behind it; false at the end or, told, if it is too long
static bool next_word(const char **list, char *word, size_t size, const struct pd_place *place)
{
    const char *blanks = " \t;";
    *list += strspn(*list, blanks);
    size_t length = strcspn(*list, blanks);
    if (!pd_text_trim(word, size, *list, length)) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "a word is too long, expected sizes such as 24 50 80 L");
    }
    *list += length;
    return length > 0;
}

// "18 24 50" and "L", or "18 24 50 L" and ""; nothing brings the usual sizes back
static bool take_sizes(struct pd_scenario *scenario, const struct pd_place *place,
                       const char *value, const char *unit)
{
    char word[SHOWN];
    size_t before = place->faults->count;
    const struct pd_item_row *row = &pd_items[PD_TANK_SIZES];
    struct pd_bounds bounds = {PD_KIND_VOLUME, row->unit, row->least, row->most};
    if (value[0] == '\0' || pd_text_same(value, "none")) {
        scenario->given[PD_TANK_SIZES] = false;
        pd_tank_sizes_usual(scenario, PD_UNITS_SI);
        return no_unit(place, unit);
    }
    // the unit may stand at the end of the list
    const char *last = strrchr(value, ' ');
    bool inside = unit[0] == '\0' && last != NULL && strpbrk(last, "0123456789") == NULL;
    size_t length = inside ? (size_t)(last - value) : strlen(value);
    scenario->tank_size_count = 0;
    for (const char *at = value; next_word(&at, word, sizeof word, place);) {
        double size;
        if ((size_t)(at - value) > length) {
            break;
        }
        if (!pd_quantity_read(place, &bounds, word, inside ? last + 1 : unit, &size) ||
            !add_size(scenario, place, size)) {
            return false;
        }
    }
    return place->faults->count == before;
}

void pd_currency_of(const char *unit, char currency[PD_CURRENCY_MOST])
{
    char name[PD_CURRENCY_MOST];
    // `1/kWh` and `/kWh` name none
    size_t length = unit[0] == '1' ? 0 : strcspn(unit, "/");
    (void)pd_text_trim(name, sizeof name, unit, length);
    // it goes into tables as it is
    pd_text_show(currency, PD_CURRENCY_MOST, name);
}

// the currency of a price's unit, which stands by itself or behind the number
static void take_currency(struct pd_scenario *scenario, const char *value, const char *unit)
{
    double number;
    const char *rest = unit;
    if (unit[0] == '\0') {
        (void)pd_text_number(value, &number, &rest);
    }
    pd_currency_of(rest, scenario->currency);
}

// a number, its unit where it needs one, and the currency of a price
static bool take_quantity(struct pd_scenario *scenario, enum pd_item item,
                          const struct pd_place *place, const char *value, const char *unit)
{
    const struct pd_item_row *row = &pd_items[item];
    struct pd_bounds bounds = {row->kind, row->unit, row->least, row->most};
    if (!pd_quantity_read(place, &bounds, value, unit, &scenario->value[item])) {
        return false;
    }
    if (row->kind == PD_KIND_PRICE) {
        take_currency(scenario, value, unit);
    }
    return true;
}

static void take_default(struct pd_scenario *scenario, enum pd_item item)
{
    scenario->given[item] = false;
    scenario->value[item] = pd_item_default(item);
    if (item == PD_ENERGY_PRICE) {
        scenario->currency[0] = '\0';
    }
}

static bool asks_default(const struct pd_item_row *row, const char *value, const char *unit)
{
    return value == NULL ||
           (pd_text_same(value, "none") && unit[0] == '\0' && find_choice(row->choices, value) < 0);
}

static bool take_item(struct pd_scenario *scenario, enum pd_item item, const struct pd_place *place,
                      const char *value, const char *unit)
{
    const struct pd_item_row *row = &pd_items[item];
    // given even if wrong, so that nothing else complains that it is missing
    scenario->given[item] = true;
    scenario->line[item] = place->line;
    if (item == PD_TANK_SIZES) {
        return take_sizes(scenario, place, value, unit);
    }
    if (row->kind == PD_KIND_TEXT) {
        return no_unit(place, unit) && take_title(scenario, place, value);
    }
    if (asks_default(row, value, unit)) {
        take_default(scenario, item);
        return true;
    }
    if (row->kind == PD_KIND_CHOICE) {
        return no_unit(place, unit) && take_choice(&scenario->value[item], row, place, value);
    }
    return take_quantity(scenario, item, place, value, unit);
}

bool pd_item_take(struct pd_scenario *scenario, enum pd_item item, const struct pd_place *place,
                  const char *value, const char *unit)
{
    bool good = take_item(scenario, item, place, value, unit);
    // another choice of codes moves the limits that are not given
    pd_codes_apply(scenario);
    return good;
}

static bool tell_unknown(const struct pd_place *place, const char *name)
{
    char shown[SHOWN];
    // a file of nothing but faults must not cost a search a line
    bool heard = place->faults->count < PD_FAULTS_MOST;
    const char *nearest = heard ? pd_item_nearest(name) : NULL;
    pd_text_show(shown, sizeof shown, name);
    return pd_faults_add(place->faults, place->file, place->line, place->item,
                         "unknown item, got \"%s\", expected %s%s", shown,
                         nearest != NULL ? "perhaps " : "one of those told by `pumpday items`",
                         nearest != NULL ? nearest : "");
}

static bool read_row(struct pd_scenario *scenario, const struct pd_heads *heads,
                     struct pd_table *table, size_t row, struct pd_faults *faults)
{
    char shown[SHOWN];
    struct pd_place place = pd_heads_place(heads, table, row, COLUMN_ITEM, faults);
    const char *name = pd_heads_text(heads, table, row, COLUMN_ITEM);
    if (!pd_heads_row_fits(table, row, faults)) {
        return false;
    }
    if (name[0] == '\0') {
        return pd_faults_add(faults, place.file, place.line, place.item,
                             "no name of an item, expected one in each row");
    }
    pd_text_show(shown, sizeof shown, name);
    place.item = shown;
    enum pd_item item = pd_item_find(name);
    if (item == PD_ITEM_COUNT) {
        return tell_unknown(&place, name);
    }
    place.item = pd_items[item].name;
    if (scenario->line[item] > 0) {
        return pd_faults_add(faults, place.file, place.line, place.item,
                             "given twice, first on line %d, expected it once",
                             scenario->line[item]);
    }
    return pd_item_take(scenario, item, &place, pd_heads_text(heads, table, row, COLUMN_VALUE),
                        pd_heads_text(heads, table, row, COLUMN_UNIT));
}

static bool read_rows(struct pd_scenario *scenario, struct pd_table *table, bool *rows_read,
                      struct pd_faults *faults)
{
    struct pd_heads heads;
    bool good = !table->damaged;
    if (!pd_heads_read(&heads, columns, COLUMN_COUNT, table, faults)) {
        return false;
    }
    if (table->row_count == 1 && good) {
        return pd_faults_add(faults, table->path, 0, NULL,
                             "no rows below the column heads, expected an item in each");
    }
    *rows_read = good;
    for (size_t row = 1; row < table->row_count; row++) {
        good = read_row(scenario, &heads, table, row, faults) && good;
    }
    return good;
}

bool pd_read_site(struct pd_scenario *scenario, bool *rows_read, struct pd_faults *faults)
{
    struct pd_table table = {.row_count = 0};
    if (!pd_path_join(table.path, scenario->folder, "site.csv")) {
        return pd_faults_add(faults, NULL, 0, NULL, "the path of the folder is too long");
    }
    bool good =
        pd_table_read(&table, ROWS_MOST, faults) && read_rows(scenario, &table, rows_read, faults);
    scenario->leaning += table.leaning;
    pd_table_free(&table);
    return good;
}
