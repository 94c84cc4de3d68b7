/* By what days are judged, as lines of text. */
#ifndef PUMPDAY_PRESENT_LIMITS_TEXT_H
#define PUMPDAY_PRESENT_LIMITS_TEXT_H

#include <pumpday/compare.h>

#include <stdio.h>

/* Writes "HEAD: at most 15 starts in an hour (source), ..."; a limit that is not finite is none. */
void pd_limits_write(FILE *stream, const char *head, const struct pd_limits *limits,
                     enum pd_unit_system units);

#endif
