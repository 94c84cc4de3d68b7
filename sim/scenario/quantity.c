/* Every message about a number, a unit or a limit comes from here. */
#include "scenario/quantity.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

enum { SHOWN = 48, UNITS = 160 }; // sizes of texts in messages

static bool tell_number(const struct pd_place *place, enum pd_number how, const char *text)
{
    char shown[SHOWN];
    const char *expected = "a number such as 12.5";
    pd_text_show(shown, sizeof shown, text);
    if (how == PD_NUMBER_EMPTY) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "no value, expected %s", expected);
    }
    if (how == PD_NUMBER_INFINITE) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "not a finite number, got \"%s\", expected %s", shown, expected);
    }
    if (how == PD_NUMBER_BAD) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "not a number, got \"%s\", expected %s", shown, expected);
    }
    // one decimal comma means a file full of them
    if (place->comma_told != NULL && *place->comma_told) {
        return false;
    }
    if (place->comma_told != NULL) {
        *place->comma_told = true;
    }
    return pd_faults_add(
        place->faults, place->file, place->line, place->item,
        "a decimal comma, got \"%s\", expected a decimal point: save the file with "
        "decimal points and commas between columns",
        shown);
}

bool pd_quantity_number(const struct pd_place *place, const char *text, double *value)
{
    enum pd_number how = pd_text_number(text, value, NULL);
    return how == PD_NUMBER_GOOD || tell_number(place, how, text);
}

const struct pd_unit *pd_quantity_unit(const struct pd_place *place, enum pd_kind kind,
                                       const char *name)
{
    char shown[SHOWN];
    char list[UNITS];
    const struct pd_unit *unit = pd_unit_find(kind, name);
    if (unit != NULL) {
        if (place->leaning != NULL) {
            *place->leaning += pd_unit_leaning(kind, unit->name);
        }
        return unit;
    }
    pd_text_show(shown, sizeof shown, name);
    pd_unit_list(kind, list, sizeof list);
    if (name[0] == '\0') {
        pd_faults_add(place->faults, place->file, place->line, place->item,
                      "no unit, expected one of %s", list);
    } else if (strspn(name, "0123456789.") == strlen(name)) {
        pd_faults_add(place->faults, place->file, place->line, place->item,
                      "a number where the unit belongs, got \"%s\", expected one of %s; a decimal "
                      "comma splits a number in two: use decimal points",
                      shown, list);
    } else {
        pd_faults_add(place->faults, place->file, place->line, place->item,
                      "%s, got \"%s\", expected a unit of %s: %s",
                      pd_unit_known(name) ? "the wrong kind of unit" : "unknown unit", shown,
                      pd_kind_name(kind), list);
    }
    return NULL;
}

bool pd_quantity_within(const struct pd_place *place, const struct pd_bounds *bounds, double si,
                        const char *text)
{
    char shown[SHOWN];
    const struct pd_unit *unit = pd_unit_find(bounds->kind, bounds->unit);
    double value = unit != NULL ? pd_unit_from_si(unit, si) : si;
    // a limit written in another unit still is that limit, but for the last digits
    double under = 1e-9 * fabs(bounds->least), over = 1e-9 * fabs(bounds->most);
    if (value >= bounds->least - under && value <= bounds->most + over) {
        return true;
    }
    pd_text_show(shown, sizeof shown, text);
    return pd_faults_add(place->faults, place->file, place->line, place->item,
                         "out of range, got \"%s\", expected %g to %g%s%s", shown, bounds->least,
                         bounds->most, bounds->unit[0] != '\0' ? " " : "", bounds->unit);
}

// the unit that goes with a number of this kind; *unit stays NULL where none is needed
static bool settle_unit(const struct pd_place *place, const struct pd_bounds *bounds,
                        const char *name, const struct pd_unit **unit)
{
    char shown[SHOWN];
    *unit = NULL;
    if (name[0] == '\0' && !pd_kind_needs_unit(bounds->kind)) {
        return true;
    }
    pd_text_show(shown, sizeof shown, name);
    if (bounds->kind == PD_KIND_NUMBER) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "a unit with a pure number, got \"%s\", expected none", shown);
    }
    *unit = pd_quantity_unit(place, bounds->kind, name);
    // starts in a period cannot be turned into starts in another
    if (*unit != NULL && bounds->kind == PD_KIND_STARTS && !pd_text_same(name, bounds->unit)) {
        return pd_faults_add(place->faults, place->file, place->line, place->item,
                             "the wrong unit, got \"%s\", expected %s or none", shown,
                             bounds->unit);
    }
    return *unit != NULL;
}

/* Digits of a whole number, moving past them.  False if there are none. */
static bool read_whole(const char **at, double *whole)
{
    const char *begin = *at;

    for (*whole = 0; **at >= '0' && **at <= '9'; (*at)++) {
        *whole = 10 * *whole + (**at - '0');
    }
    return *at != begin;
}

/* Sizes of the trade: "3/4 in", "1 1/4 in", "1-1/2 hp".  Returns what follows, NULL if it is no
 * fraction. */
static const char *read_fraction(const char *text, double *value)
{
    const char *at = text + strspn(text, " ");
    double whole = 0, upper, lower;

    if (!read_whole(&at, &upper)) {
        return NULL;
    }
    if (*at == ' ' || *at == '-') {
        whole = upper;
        at += *at == '-' ? 1 : strspn(at, " ");
        if (!read_whole(&at, &upper)) {
            return NULL;
        }
    }
    if (*at++ != '/' || !read_whole(&at, &lower) || lower == 0) {
        return NULL;
    }
    *value = whole + upper / lower;
    return at + strspn(at, " ");
}

/* The number of a quantity and what follows it. */
static enum pd_number read_number(const char *text, double *number, const char **rest)
{
    const char *after = read_fraction(text, number);

    if (after == NULL) {
        return pd_text_number(text, number, rest);
    }
    if (rest != NULL) {
        *rest = after;
    }
    return rest != NULL || *after == '\0' ? PD_NUMBER_GOOD : PD_NUMBER_BAD;
}

bool pd_quantity_read(const struct pd_place *place, const struct pd_bounds *bounds,
                      const char *value, const char *unit, double *si)
{
    char written[SHOWN + SHOWN];
    const char *rest = "";
    double number = 0.0;
    const struct pd_unit *found = NULL;
    // the number first, so that a word is not taken for a missing unit
    enum pd_number how = read_number(value, &number, unit[0] == '\0' ? &rest : NULL);
    if (how != PD_NUMBER_GOOD) {
        return tell_number(place, how, value);
    }
    if (!settle_unit(place, bounds, unit[0] == '\0' ? rest : unit, &found)) {
        return false;
    }
    *si = found != NULL ? pd_unit_to_si(found, number) : number;
    if (!isfinite(*si)) {
        return tell_number(place, PD_NUMBER_INFINITE, value);
    }
    (void)snprintf(written, sizeof written, "%.40s%s%.40s", value, unit[0] != '\0' ? " " : "",
                   unit);
    return pd_quantity_within(place, bounds, *si, written);
}
