/* Looks at a page as a parser would: tags that open and close, headings, ids. */
#ifndef PUMPDAY_TESTS_MARKUP_H
#define PUMPDAY_TESTS_MARKUP_H

#include <stdbool.h>
#include <stddef.h>

enum { MARKUP_TEXT_MOST = 1 << 22 };

/* Says nothing of what it finds while this is set: for tests of the checks themselves. */
extern bool markup_quiet;

/* True if every tag that opens is closed in order, every attribute's value is quoted, and no `<`
 * stands in text; else says where it is not. */
bool markup_is_balanced(const char *text);

/* True if there is one h1, it comes first, and no heading is more than one level below the one
 * before it. */
bool markup_headings_in_order(const char *text);

/* True if no id is there twice. */
bool markup_ids_are_unique(const char *text);

/* How often a piece of text stands in another. */
size_t markup_count(const char *text, const char *piece);

#endif
