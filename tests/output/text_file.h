/* What the tests of the reports share: text written to a stream, and whole files, as strings. */
#ifndef PUMPDAY_TESTS_TEXT_FILE_H
#define PUMPDAY_TESTS_TEXT_FILE_H

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum { TEXT_MOST = 32768 };

/* Reads all of a stream from its start into text; cut at TEXT_MOST. */
static inline const char *stream_text(FILE *stream, char text[TEXT_MOST])
{
    rewind(stream);
    size_t length = fread(text, 1, TEXT_MOST - 1, stream);
    text[length] = '\0';
    return text;
}

/* The text of a file, "" if there is none. */
static inline const char *file_text(const char *path, char text[TEXT_MOST])
{
    FILE *stream = fopen(path, "r");

    text[0] = '\0';
    if (stream != NULL) {
        (void)stream_text(stream, text);
        (void)fclose(stream);
    }
    return text;
}

/* True if two texts are equal; shows both when they are not. */
static inline bool same_text(const char *got, const char *want)
{
    if (strcmp(got, want) == 0) {
        return true;
    }
    (void)printf("\n      got  \"%s\"\n      want \"%s\" ", got, want);
    return false;
}

#endif
