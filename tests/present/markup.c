/* A small reader of tags: enough for pages that are written whole and plain. */
#include "present/markup.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NAME_MOST = 32, DEEPEST = 64, IDS_MOST = 512 };

/* HTML, 13.1.2: elements without an end tag. */
static const char *const void_names[] = {"meta", "link", "br", "img", "hr", "input"};

bool markup_quiet;

static bool complain(const char *what, const char *at)
{
    if (!markup_quiet) {
        (void)printf("\n      %s: \"%.60s\"", what, at);
    }
    return false;
}

static bool is_void(const char *name)
{
    for (size_t i = 0; i < sizeof void_names / sizeof void_names[0]; i++) {
        if (strcmp(name, void_names[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* The name after `<` or `</`. */
static void read_name(const char *at, char name[NAME_MOST])
{
    size_t length = 0;

    while (length + 1 < NAME_MOST && isalnum((unsigned char)at[length])) {
        name[length] = at[length];
        length++;
    }
    name[length] = '\0';
}

/* The `>` that ends a tag: not one within quotes.  NULL if the tag does not end. */
static const char *tag_end(const char *at)
{
    char quote = '\0';

    for (; *at != '\0'; at++) {
        if (quote != '\0') {
            if (*at == quote) {
                quote = '\0';
            }
        } else if (*at == '"' || *at == '\'') {
            quote = *at;
        } else if (*at == '>') {
            return at;
        } else if (*at == '<') {
            return NULL;
        }
    }
    return NULL;
}

/* Every `=` outside quotes has a quote behind it, white space between them allowed. */
static bool values_are_quoted(const char *at, const char *end)
{
    char quote = '\0';

    for (; at < end; at++) {
        if (quote != '\0') {
            if (*at == quote) {
                quote = '\0';
            }
        } else if (*at == '"' || *at == '\'') {
            quote = *at;
        } else if (*at == '=') {
            const char *value = at + 1 + strspn(at + 1, " ");
            if (*value != '"' && *value != '\'') {
                return false;
            }
        }
    }
    return true;
}

struct open_tags {
    size_t depth;
    char name[DEEPEST][NAME_MOST];
};

static bool take_tag(struct open_tags *open, const char *at, const char *end)
{
    char name[NAME_MOST];

    if (at[1] == '/') {
        read_name(at + 2, name);
        if (open->depth == 0 || strcmp(open->name[open->depth - 1], name) != 0) {
            return complain("closes what is not open", at);
        }
        open->depth--;
        return true;
    }
    read_name(at + 1, name);
    if (name[0] == '\0' || !values_are_quoted(at + 1, end)) {
        return complain("no name, or a value without quotes", at);
    }
    if (end[-1] != '/' && !is_void(name)) {
        if (open->depth == DEEPEST) {
            return complain("too deep", at);
        }
        memcpy(open->name[open->depth++], name, sizeof name);
    }
    return true;
}

bool markup_is_balanced(const char *text)
{
    static const char doctype[] = "<!DOCTYPE html>";
    struct open_tags open = {.depth = 0};

    if (strncmp(text, doctype, sizeof doctype - 1) != 0) {
        return complain("no doctype", text);
    }
    for (const char *at = strchr(text + 1, '<'); at != NULL; at = strchr(at, '<')) {
        const char *end = tag_end(at + 1);
        if (end == NULL) {
            return complain("a tag that does not end", at);
        }
        if (!take_tag(&open, at, end)) {
            return false;
        }
        at = end;
    }
    return open.depth == 0 || complain("left open", open.name[open.depth - 1]);
}

bool markup_headings_in_order(const char *text)
{
    int before = 0;
    int firsts = 0;

    for (const char *at = strstr(text, "<h"); at != NULL; at = strstr(at + 1, "<h")) {
        if (!isdigit((unsigned char)at[2])) {
            continue;
        }
        int level = at[2] - '0';
        if (level > before + 1) {
            return complain("a level is skipped", at);
        }
        firsts += level == 1;
        before = level;
    }
    return firsts == 1 || complain("not one first heading", text);
}

static int by_text(const void *a, const void *b)
{
    const char *const *left = a;
    const char *const *right = b;
    size_t length = strcspn(*left, "\"'");
    size_t other = strcspn(*right, "\"'");
    int order = strncmp(*left, *right, length < other ? length : other);

    return order != 0 ? order : (length > other) - (length < other);
}

bool markup_ids_are_unique(const char *text)
{
    const char *ids[IDS_MOST];
    size_t count = 0;

    for (const char *at = strstr(text, " id="); at != NULL; at = strstr(at + 1, " id=")) {
        if (count == IDS_MOST) {
            return complain("more ids than fit", at);
        }
        ids[count++] = at + strlen(" id=\"");
    }
    qsort(ids, count, sizeof ids[0], by_text);
    for (size_t i = 1; i < count; i++) {
        if (by_text(&ids[i - 1], &ids[i]) == 0) {
            return complain("an id is there twice", ids[i]);
        }
    }
    return true;
}

size_t markup_count(const char *text, const char *piece)
{
    size_t count = 0;

    for (const char *at = strstr(text, piece); at != NULL; at = strstr(at + 1, piece)) {
        count++;
    }
    return count;
}
