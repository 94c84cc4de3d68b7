/* A rank other than 0: makes the days that it is given. */
#ifndef PUMPDAY_STUDIES_DAYS_SERVE_H
#define PUMPDAY_STUDIES_DAYS_SERVE_H

/* Serves rank 0 until that dismisses it. */
void days_serve(void);

/* On rank 0: dismisses the others. */
void days_dismiss(void);

#endif
