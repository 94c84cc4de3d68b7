/* Reads numbers by hand up to where they end, so that hex, nan and words never pass as numbers.
 * Assumes the "C" locale: the program never sets another. */
#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_space(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

static char lower(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static const char *skip_space(const char *text)
{
    while (is_space(*text)) {
        text++;
    }
    return text;
}

static const char *skip_digits(const char *text)
{
    while (is_digit(*text)) {
        text++;
    }
    return text;
}

// end of the decimal number at text, or text itself where there is none
static const char *number_end(const char *text)
{
    const char *at = text + (*text == '+' || *text == '-');
    const char *whole = at;
    at = skip_digits(at);
    size_t digits = (size_t)(at - whole);
    if (*at == '.') {
        const char *part = at + 1;
        at = skip_digits(part);
        digits += (size_t)(at - part);
    }
    if (digits == 0) {
        return text;
    }
    // an exponent counts only with digits of its own: "10EUR" is ten of something
    if (*at == 'e' || *at == 'E') {
        const char *power = at + 1;
        power += *power == '+' || *power == '-';
        at = is_digit(*power) ? skip_digits(power) : at;
    }
    return at;
}

static bool starts_word(const char *text, const char *word)
{
    size_t i = 0;
    while (word[i] != '\0' && lower(text[i]) == word[i]) {
        i++;
    }
    return word[i] == '\0';
}

// what stands in place of a number
static enum pd_number no_number(const char *text)
{
    text += *text == '+' || *text == '-';
    if (*text == '\0') {
        return PD_NUMBER_EMPTY;
    }
    if (starts_word(text, "nan") || starts_word(text, "inf")) {
        return PD_NUMBER_INFINITE;
    }
    return *text == ',' && is_digit(text[1]) ? PD_NUMBER_COMMA : PD_NUMBER_BAD;
}

enum pd_number pd_text_number(const char *text, double *value, const char **rest)
{
    const char *begin = skip_space(text);
    const char *end = number_end(begin);
    if (end == begin) {
        return no_number(begin);
    }
    if (*end == ',' && is_digit(end[1])) {
        return PD_NUMBER_COMMA;
    }
    // hexadecimal and a second decimal point would otherwise look like a number and a unit
    if (*end == '.' || ((*end == 'x' || *end == 'X') && end == begin + 1)) {
        return PD_NUMBER_BAD;
    }
    const char *after = skip_space(end);
    if (rest == NULL && *after != '\0') {
        return PD_NUMBER_BAD;
    }
    *value = strtod(begin, NULL);
    if (rest != NULL) {
        *rest = after;
    }
    return isfinite(*value) ? PD_NUMBER_GOOD : PD_NUMBER_INFINITE;
}

// one or two digits, moving past them
static bool clock_part(const char **text, int *value)
{
    const char *at = *text;
    if (!is_digit(*at)) {
        return false;
    }
    *value = *at++ - '0';
    if (is_digit(*at)) {
        *value = *value * 10 + (*at++ - '0');
    }
    *text = at;
    return true;
}

bool pd_text_clock(const char *text, double *seconds)
{
    int hours = 0;
    int minutes = 0;
    double part = 0.0;
    const char *at = skip_space(text);
    if (!clock_part(&at, &hours) || *at++ != ':' || !clock_part(&at, &minutes)) {
        return false;
    }
    // seconds are left out as a rule, and may have decimals
    if (*at == ':') {
        if (!is_digit(at[1]) || pd_text_number(at + 1, &part, &at) != PD_NUMBER_GOOD) {
            return false;
        }
    }
    *seconds = 3600.0 * hours + 60.0 * minutes + part;
    return *skip_space(at) == '\0' && minutes < 60 && part < 60.0 && *seconds <= 86400.0;
}

bool pd_text_same(const char *a, const char *b)
{
    while (*a != '\0' && lower(*a) == lower(*b)) {
        a++;
        b++;
    }
    return lower(*a) == lower(*b);
}

bool pd_text_trim(char *out, size_t size, const char *text, size_t length)
{
    while (length > 0 && is_space(*text)) {
        text++;
        length--;
    }
    while (length > 0 && is_space(text[length - 1])) {
        length--;
    }
    bool fits = length < size;
    size_t kept = fits ? length : size - 1;
    memcpy(out, text, kept);
    out[kept] = '\0';
    return fits;
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

size_t pd_text_distance(const char *a, const char *b)
{
    size_t m = strlen(a);
    size_t n = strlen(b);
    size_t row[3][PD_DISTANCE_MOST + 1];
    if (m > PD_DISTANCE_MOST || n > PD_DISTANCE_MOST) {
        return m > n ? m : n;
    }
    for (size_t j = 0; j <= n; j++) {
        row[0][j] = j;
    }
    // three rows of the usual table: this one, the last, and the one before for swapped neighbours
    for (size_t i = 1; i <= m; i++) {
        size_t *now = row[i % 3];
        const size_t *last = row[(i + 2) % 3];
        now[0] = i;
        for (size_t j = 1; j <= n; j++) {
            size_t change = last[j - 1] + (lower(a[i - 1]) != lower(b[j - 1]));
            now[j] = least(change, least(last[j], now[j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                now[j] = least(now[j], row[(i + 1) % 3][j - 2] + 1);
            }
        }
    }
    return row[m % 3][n];
}

static bool goes_on(unsigned char byte)
{
    return (byte & 0xC0U) == 0x80U;
}

/* Bytes of the character that begins with a byte, by that byte alone; 0 if none does. */
static size_t promised_length(unsigned char first)
{
    if (first < 0x80) {
        return 1;
    }
    if (first < 0xC2 || first > 0xF4) {
        return 0;
    }
    return first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
}

/* No longer forms than needed, no surrogates, nothing beyond U+10FFFF. */
static bool is_barred(unsigned char first, unsigned char second)
{
    switch (first) {
    case 0xE0:
        return second < 0xA0;
    case 0xED:
        return second > 0x9F;
    case 0xF0:
        return second < 0x90;
    case 0xF4:
        return second > 0x8F;
    default:
        return false;
    }
}

/* Source: Unicode Standard, table 3-7, well-formed UTF-8 byte sequences. */
size_t pd_text_character(const char *text)
{
    const unsigned char *at = (const unsigned char *)text;
    size_t length = promised_length(at[0]);

    // the zero at the text's end goes on with nothing, so no byte beyond it is read
    for (size_t i = 1; i < length; i++) {
        if (!goes_on(at[i])) {
            return 0;
        }
    }
    return length > 1 && is_barred(at[0], at[1]) ? 0 : length;
}

static unsigned long code_point(const char *at, size_t length)
{
    static const unsigned char masks[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    unsigned long code = (unsigned char)at[0] & masks[length];

    for (size_t i = 1; i < length; i++) {
        code = code << 6U | ((unsigned char)at[i] & 0x3FU);
    }
    return code;
}

/* Source: Unicode Standard, general category Cc; the property Bidi_Control; U+2028 and U+2029. */
static bool is_visible(unsigned long code)
{
    static const struct {
        unsigned long first, last;
    } barred[] = {
        {0x00, 0x1F},     {0x7F, 0x9F},     {0x061C, 0x061C},
        {0x200E, 0x200F}, {0x2028, 0x202E}, {0x2066, 0x2069},
    };

    for (size_t i = 0; i < sizeof barred / sizeof barred[0]; i++) {
        if (code >= barred[i].first && code <= barred[i].last) {
            return false;
        }
    }
    return true;
}

/* The next character of a text that has not ended: bytes taken, and what is shown for them. */
struct shown {
    size_t taken;
    const char *text;
    size_t length;
};

static struct shown next_shown(const char *at)
{
    size_t length = pd_text_character(at);

    if (length > 0 && is_visible(code_point(at, length))) {
        return (struct shown){length, at, length};
    }
    return (struct shown){length > 0 ? length : 1, "?", 1};
}

bool pd_text_is_visible(const char *text)
{
    while (*text != '\0' && next_shown(text).text == text) {
        text += next_shown(text).taken;
    }
    return *text == '\0';
}

void pd_text_put(FILE *stream, const char *text)
{
    while (*text != '\0') {
        struct shown shown = next_shown(text);
        (void)fwrite(shown.text, 1, shown.length, stream);
        text += shown.taken;
    }
}

void pd_text_show(char *out, size_t size, const char *text)
{
    static const char more[] = "...";
    size_t at = 0;
    size_t cut = 0; // between characters, with room for the dots behind it

    while (*text != '\0') {
        struct shown shown = next_shown(text);
        if (at + shown.length >= size) {
            break;
        }
        cut = at + sizeof more <= size ? at : cut;
        memcpy(out + at, shown.text, shown.length);
        at += shown.length;
        text += shown.taken;
    }
    out[at] = '\0';
    if (*text != '\0' && size > sizeof more) {
        cut = at + sizeof more <= size ? at : cut;
        memcpy(out + cut, more, sizeof more);
    }
}

void pd_text_utf8(char *out, size_t size, const char *text)
{
    size_t at = 0;

    while (*text != '\0') {
        size_t length = pd_text_character(text);
        const char *from = length > 0 ? text : PD_TEXT_UNKNOWN;
        size_t bytes = length > 0 ? length : strlen(PD_TEXT_UNKNOWN);
        if (at + bytes >= size) {
            break;
        }
        memcpy(out + at, from, bytes);
        at += bytes;
        text += length > 0 ? length : 1;
    }
    out[at] = '\0';
}

const char *pd_text_part(const char *list, char *part, size_t size)
{
    size_t length = strcspn(list, ";");
    size_t kept = length < size - 1 ? length : size - 1;

    memcpy(part, list, kept);
    part[kept] = '\0';
    list += length;
    return *list == '\0' ? NULL : list + strspn(list, "; ");
}

bool pd_text_runs(const char *text)
{
    static const char begins[] = "=+-@\t\r\n";
    double number;

    text += strspn(text, "'");
    return *text != '\0' && strchr(begins, *text) != NULL &&
           pd_text_number(text, &number, NULL) != PD_NUMBER_GOOD;
}

void pd_text_unguard(char *cell)
{
    if (cell[0] == '\'' && pd_text_runs(cell)) {
        memmove(cell, cell + 1, strlen(cell));
    }
}

bool pd_text_path(char *path, size_t size, const char *folder, const char *name)
{
    int length = snprintf(path, size, "%s/%s", folder, name);

    return length > 0 && (size_t)length < size;
}
