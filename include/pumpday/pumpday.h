/* pumpday: transient simulation of a water pressure booster through a day. */
#ifndef PUMPDAY_PUMPDAY_H
#define PUMPDAY_PUMPDAY_H

#include <pumpday/check.h>
#include <pumpday/choose.h>
#include <pumpday/compare.h>
#include <pumpday/days.h>
#include <pumpday/diagnose.h>
#include <pumpday/household.h>
#include <pumpday/quick.h>
#include <pumpday/report.h>
#include <pumpday/settings.h>
#include <pumpday/sheet.h>
#include <pumpday/sweep.h>

#define PD_VERSION "0.1.0"

#endif
