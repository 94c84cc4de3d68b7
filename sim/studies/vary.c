/* Reads what a sweep varies.  A value is the text that is written of it: rounded to twelve digits,
 * so that 0.1 three times is 0.3 and any row can be simulated again from what stands in it. */
#include <pumpday/sweep.h>

#include "base/text.h"

#include <math.h>
#include <string.h>

enum { SHOWN = 48, UNITS_SHOWN = 160 };

/* Parts of a step by which the last one may miss the end of a range. */
static const double end_slack = 1e-6;

/* A value nearer to zero than this part of a step is zero. */
static const double zero_slack = 1e-9;

/* What is being read, for faults. */
struct reading {
    const struct pd_item_row *row;
    struct pd_error *error;
};

static bool tell(const struct reading *reading, const char *what, const char *got,
                 const char *expected)
{
    char shown[SHOWN];

    pd_text_show(shown, sizeof shown, got);
    return pd_error_set(reading->error, PD_BAD_USAGE, NULL, 0, reading->row->name,
                        "%s, got \"%s\", expected %s", what, shown, expected);
}

/* Copies one value of the many between `mark`s; *next is behind the mark, NULL after the last. */
static bool cut(const struct reading *reading, const char *from, char mark,
                char text[PD_VALUE_MOST], const char **next)
{
    const char *end = strchr(from, mark);
    size_t length = end != NULL ? (size_t)(end - from) : strlen(from);

    *next = end != NULL ? end + 1 : NULL;
    if (!pd_text_trim(text, PD_VALUE_MOST, from, length)) {
        return tell(reading, "the value is too long", text, "a shorter one");
    }
    return text[0] != '\0' || tell(reading, "a value is missing", from, "one on each side");
}

/* Finds the unit of the values by the text behind the last of them. */
static bool settle_unit(const struct reading *reading, const char *name, const char **unit)
{
    enum pd_kind kind = reading->row->kind;
    char list[UNITS_SHOWN];

    *unit = NULL;
    if (name[0] == '\0' && !pd_kind_needs_unit(kind)) {
        return true;
    }
    if (kind == PD_KIND_NUMBER) {
        return tell(reading, "a unit with pure numbers", name, "none");
    }
    const struct pd_unit *found = pd_unit_find(kind, name);
    pd_unit_list(kind, list, sizeof list);
    if (found == NULL) {
        return tell(reading, name[0] == '\0' ? "no unit behind the last value" : "no such unit",
                    name, list);
    }
    // starts in a period cannot be turned into starts in another
    if (kind == PD_KIND_STARTS && !pd_text_same(name, reading->row->unit)) {
        return tell(reading, "the wrong unit", name, reading->row->unit);
    }
    *unit = found->name;
    return true;
}

/* Reads a number; behind the last of them stands the unit. */
static bool read_number(const struct reading *reading, const char *text, bool is_last,
                        double *value, const char **unit)
{
    const char *rest = "";

    if (pd_text_number(text, value, is_last ? &rest : NULL) != PD_NUMBER_GOOD) {
        return tell(reading, "not a number", text,
                    "numbers with decimal points, and one unit behind the last");
    }
    return !is_last || settle_unit(reading, rest, unit);
}

static bool count_steps(const struct reading *reading, double to, struct pd_varied *varied)
{
    double steps = (to - varied->from) / varied->step;

    if (varied->step == 0) {
        return tell(reading, "a step of nothing", "0", "FROM:TO:STEP with a step towards TO");
    }
    if (steps < 0) {
        return tell(reading, "the step leads away from the end", varied->list,
                    "FROM:TO:STEP with a step towards TO");
    }
    if (!(steps + end_slack < PD_COMBINATIONS_MOST)) {
        return pd_error_set(reading->error, PD_BAD_USAGE, NULL, 0, reading->row->name,
                            "too many values, expected at most %d", PD_COMBINATIONS_MOST);
    }
    varied->count = (size_t)floor(steps + end_slack) + 1;
    return true;
}

static bool read_range(const struct reading *reading, struct pd_varied *varied)
{
    const char *first = strchr(varied->list, ':');
    const char *second = first != NULL ? strchr(first + 1, ':') : NULL;
    char text[PD_VALUE_MOST];
    const char *next;
    double part[3];

    if (second == NULL || strchr(second + 1, ':') != NULL) {
        return tell(reading, "a range of other than three parts", varied->list, "FROM:TO:STEP");
    }
    const char *const at[3] = {varied->list, first + 1, second + 1};
    for (int i = 0; i < 3; i++) {
        if (!cut(reading, at[i], ':', text, &next) ||
            !read_number(reading, text, i == 2, &part[i], &varied->unit)) {
            return false;
        }
    }
    varied->is_range = true;
    varied->from = part[0];
    varied->step = part[2];
    return count_steps(reading, part[1], varied);
}

/* True if a word is one of "one|two|three". */
static bool is_choice(const char *choices, const char *word)
{
    char one[PD_VALUE_MOST];

    for (const char *at = choices; at != NULL;) {
        const char *end = strchr(at, '|');
        size_t length = end != NULL ? (size_t)(end - at) : strlen(at);
        if (pd_text_trim(one, sizeof one, at, length) && strcmp(one, word) == 0) {
            return true;
        }
        at = end != NULL ? end + 1 : NULL;
    }
    return false;
}

static bool read_list(const struct reading *reading, struct pd_varied *varied)
{
    bool words = reading->row->kind == PD_KIND_CHOICE;
    char text[PD_VALUE_MOST];
    double number;

    varied->is_range = false;
    varied->count = 0;
    for (const char *at = varied->list; at != NULL; varied->count++) {
        if (!cut(reading, at, ',', text, &at)) {
            return false;
        }
        if (words && !is_choice(reading->row->choices, text)) {
            return tell(reading, "none of the choices", text, reading->row->choices);
        }
        if (!words && !read_number(reading, text, at == NULL, &number, &varied->unit)) {
            return false;
        }
    }
    return varied->count <= PD_COMBINATIONS_MOST ||
           pd_error_set(reading->error, PD_BAD_USAGE, NULL, 0, reading->row->name,
                        "too many values, expected at most %d", PD_COMBINATIONS_MOST);
}

static bool find_item(const char *text, size_t length, struct pd_varied *varied,
                      struct pd_error *error)
{
    char name[PD_NAME_MOST];
    char shown[SHOWN];

    bool whole = pd_text_trim(name, sizeof name, text, length);
    varied->item = whole ? pd_item_find(name) : PD_ITEM_COUNT;
    if (varied->item == PD_ITEM_COUNT) {
        const char *nearest = pd_item_nearest(name);
        pd_text_show(shown, sizeof shown, name);
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "unknown item, got \"%s\", expected %s%s", shown,
                            nearest != NULL ? "perhaps " : "one of those told by `pumpday items`",
                            nearest != NULL ? nearest : "");
    }
    return true;
}

bool pd_varied_read(const char *text, struct pd_varied *varied, struct pd_error *error)
{
    const char *sign = strchr(text, '=');
    char shown[SHOWN];

    memset(varied, 0, sizeof *varied);
    if (sign == NULL) {
        pd_text_show(shown, sizeof shown, text);
        return pd_error_set(error, PD_BAD_USAGE, NULL, 0, NULL,
                            "got \"%s\", expected ITEM=FROM:TO:STEP or ITEM=a,b,c, and a unit",
                            shown);
    }
    if (!find_item(text, (size_t)(sign - text), varied, error)) {
        return false;
    }
    struct reading reading = {&pd_items[varied->item], error};
    varied->list = sign + 1;
    if (reading.row->kind == PD_KIND_TEXT) {
        return tell(&reading, "no item to vary", text, "a quantity or a choice");
    }
    bool is_range = reading.row->kind != PD_KIND_CHOICE && strchr(varied->list, ':') != NULL;
    return is_range ? read_range(&reading, varied) : read_list(&reading, varied);
}

void pd_varied_text(const struct pd_varied *varied, size_t index, char text[PD_VALUE_MOST])
{
    double number = varied->from + (double)index * varied->step;
    const char *at = varied->list;
    const char *rest;

    if (!varied->is_range) {
        for (size_t i = 0; i < index; i++) {
            at = strchr(at, ',') + 1;
        }
        (void)pd_text_trim(text, PD_VALUE_MOST, at, strcspn(at, ","));
        // a choice is its own text; a number loses the unit behind it
        if (pd_items[varied->item].kind == PD_KIND_CHOICE) {
            return;
        }
        (void)pd_text_number(text, &number, &rest);
    } else if (fabs(number) < zero_slack * fabs(varied->step)) {
        number = 0;
    }
    (void)snprintf(text, PD_VALUE_MOST, "%.12g", number + 0.0);
}
