/* Text into HTML: whatever it holds, it stays text. */
#ifndef PUMPDAY_OUTPUT_HTML_H
#define PUMPDAY_OUTPUT_HTML_H

#include <stdio.h>

/* Writes text for use between tags or in a quoted attribute: & < > " ' as references, control
 * bytes as spaces, bytes that are no UTF-8 as U+FFFD. */
void html_text(FILE *stream, const char *text);

/* The same of a printf. */
void html_format(FILE *stream, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
