/* Small jobs on text: trimming, comparing, reading numbers and times of day, showing foreign bytes
 * in a message. */
#ifndef PD_BASE_TEXT_H
#define PD_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* How reading a number went. */
enum pd_number {
    PD_NUMBER_GOOD,
    PD_NUMBER_EMPTY,
    PD_NUMBER_BAD,     /* no number stands there */
    PD_NUMBER_COMMA,   /* a number with a decimal comma */
    PD_NUMBER_INFINITE /* nan, inf, or too large for a double */
};

/* Reads the decimal number at the start of a text, white space before it skipped.  *rest, if not
 * NULL, gets what follows the number; without it nothing but white space may follow. */
enum pd_number pd_text_number(const char *text, double *value, const char **rest);

/* Reads HH:MM or HH:MM:SS[.s], 00:00 to 24:00, as seconds after midnight. */
bool pd_text_clock(const char *text, double *seconds);

/* Equal but for the case of ASCII letters. */
bool pd_text_same(const char *a, const char *b);

/* Copies text without the white space at its ends, cut to size.  False if it had to be cut. */
bool pd_text_trim(char *out, size_t size, const char *text, size_t length);

/* Whatever comes from outside - names, paths, values - passes one of these two on its way to a
 * terminal.  '?' stands for what would steer it or mislead the eye: control characters (C0, DEL,
 * C1), ends of lines and paragraphs, marks of writing direction, and bytes that are no UTF-8.
 * pd_text_show copies, and what does not fit becomes "..."; pd_text_put writes all of it. */
void pd_text_show(char *out, size_t size, const char *text);
void pd_text_put(FILE *stream, const char *text);

/* True if nothing in a text would be so replaced. */
bool pd_text_is_visible(const char *text);

/* Least number of letters to change, add, drop or swap with a neighbour to turn a into b; at most
 * PD_DISTANCE_MOST letters are looked at, a longer text is never near. */
enum { PD_DISTANCE_MOST = 64 };
size_t pd_text_distance(const char *a, const char *b);

/* What stands in place of bytes that are no UTF-8: U+FFFD. */
#define PD_TEXT_UNKNOWN "\xEF\xBF\xBD"

/* Bytes of the character of UTF-8 at the start of a text, 1 at its end; 0 if none stands there. */
size_t pd_text_character(const char *text);

/* Copies text with every byte that is no UTF-8 replaced, cut to size between characters. */
void pd_text_utf8(char *out, size_t size, const char *text);

/* Cuts the next part, up to `; `, off a list of words, cut to size; returns the rest, NULL after
 * the last part. */
const char *pd_text_part(const char *list, char *part, size_t size);

/* True of the text of a cell that a spreadsheet would run as a formula: behind any apostrophes it
 * begins with = + - @, a tab or the end of a line, and it is no number.  Such a cell is written
 * with one apostrophe more, which pd_text_unguard takes off again: every text comes back as it was.
 */
bool pd_text_runs(const char *text);
void pd_text_unguard(char *cell);

/* Joins a folder and a name.  False if the path would not fit. */
bool pd_text_path(char *path, size_t size, const char *folder, const char *name);

#endif
