/* When two times are the same. */
#ifndef PUMPDAY_INSTANT_H
#define PUMPDAY_INSTANT_H

/* times closer than this are one instant */
#define INSTANT 1.0e-9 /* s */

#endif
