/* Published numbers about the parts, and the worked examples of textbooks, each beside its source:
 * for the tests of the physics and for the page of evidence. */
#ifndef PUMPDAY_TESTS_PUBLISHED_H
#define PUMPDAY_TESTS_PUBLISHED_H

#include <stddef.h>

/* The Colebrook-White friction factor, 1/sqrt f = -2 lg(e/3.7 + 2.51/(Re sqrt f)), solved by
 * iteration until nothing changes.  C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133-156. */
double published_colebrook(double reynolds, double roughness);

/* Colebrook-White and Churchill (S. W. Churchill, Chem. Eng., 7 Nov 1977, 91-92), computed from
 * their formulae. */
struct friction_row {
    double reynolds, roughness, colebrook, churchill;
};
enum { FRICTION_ROWS = 12 };
extern const struct friction_row friction_rows[FRICTION_ROWS];

/* F. M. White, Fluid Mechanics, Example 6.6 through the program's pipe: 200 ft of 6 in asphalted
 * cast iron (e = 0.0008), water at 6 ft/s, Re 2.7e5 (data: value from memory). */
struct white_6_6 {
    double factor, head, loss; /* -, ft, lbf/ft2: printed 0.02, 4.5, 280 */
};
struct white_6_6 white_6_6(void);

/* F. M. White, Fluid Mechanics, Example 6.7 through the program's pipe: oil of 900 kg/m3 and
 * 1e-5 m2/s, 0.2 m3/s down 500 m of 200 mm cast iron (0.26 mm) falling by 10 degrees. */
struct white_6_7 {
    double loss;       /* Pa, by the program */
    double as_book;    /* Pa, with Colebrook-White's factor as the book has it */
    double head;       /* m, of as_book: printed 117 */
    double difference; /* Pa, as_book less the fall: printed 265e3 */
};
struct white_6_7 white_6_7(void);

/* B. R. Munson, D. F. Young and T. H. Okiishi, Fundamentals of Fluid Mechanics, the house plumbing
 * of Example 8.8 (4th to 6th edition; value from memory) through the program's pipe: 12.0 gal/min
 * of water at 60 F through 60 ft of 3/4 in drawn tube, 20 ft up, four threaded elbows, open globe
 * valve, faucet of 1/2 in. */
struct munson_8_8 {
    double velocity;                  /* ft/s: printed 8.70 */
    double none, friction, all_parts; /* psi: printed 10.7, 21.3, 30.5 */
};
struct munson_8_8 munson_8_8(void);

/* Round holes: Q = Cd A sqrt(2 dp / rho), the orifice law of J. E. van Zyl and R. Malde, J. Water
 * Supply AQUA 66 (2017) 287; Cd 0.61, 3 bar, 1000 kg/m3; the flows are computed from it. */
struct hole_row {
    double diameter /* m */, litres_per_hour;
};
enum { HOLE_ROWS = 5 };
extern const struct hole_row hole_rows[HOLE_ROWS];
double published_hole_flow(double diameter); /* m3/s by the program's root */

/* B. Greyvenstein and J. E. van Zyl, J. Water Supply AQUA 56 (2007): how far half the pressure cuts
 * a leak, percent.  What is left from 3 to 2 bar: computed from the power law. */
struct leak_half {
    double exponent, cut;
};
struct leak_third {
    double exponent, left;
};
enum { LEAK_ROWS = 3 };
extern const struct leak_half leak_halves[LEAK_ROWS];
extern const struct leak_third leak_thirds[LEAK_ROWS];

/* Speed of a pressure wave, and effective modulus and storage, computed from Korteweg's formula
 * (E. B. Wylie and V. L. Streeter, Fluid Transients in Systems, 1993; formula and wall moduli:
 * value from memory), K 2.18 GPa, 998.2 kg/m3. */
struct wall_row {
    const char *pipe;
    double bore, wall, modulus; /* m, m, Pa */
    double wave_speed;          /* m/s */
    double effective_modulus;   /* Pa */
    double storage;             /* mL per L and bar */
};
enum { WALL_ROWS = 8 };
extern const struct wall_row wall_rows[WALL_ROWS];
double published_give(const struct wall_row *row); /* 1/Pa, by the program */

/* Net positive suction head of a pump 1 m flooded with 0.5 m of loss, computed from ISO 2533 and
 * IAPWS at atmospheric pressure. */
struct npsh_row {
    double height, celsius, npsh; /* m, C, m */
};
enum { NPSH_ROWS = 9 };
extern const struct npsh_row npsh_rows[NPSH_ROWS];
double published_npsh(const struct npsh_row *row); /* m, by the program */

/* Computed from IAPWS R7-97(2012) and R12-08 at 0.101325 MPa by another program. */
struct water_row {
    double celsius, density, viscosity, vapour_pressure, bulk_modulus;
};
enum { WATER_ROWS = 7 };
extern const struct water_row water_rows[WATER_ROWS];

/* Standard atmosphere at geopotential heights, computed from the formula and constants of ISO
 * 2533:1975 (lapse rate 6.5 K/km). */
struct air_row {
    double height, pressure; /* m, Pa */
};
enum { AIR_ROWS = 8, GEOMETRIC_ROWS = 5 };
extern const struct air_row air_rows[AIR_ROWS];

/* Tabulated in ISO 2533:1975 for geometric heights, value from memory. */
extern const struct air_row geometric_rows[GEOMETRIC_ROWS];
double published_geopotential(double geometric_height); /* m */

/* A monotone cubic and its slope by scipy 1.10.1, scipy.interpolate.PchipInterpolator and its
 * derivative(): a falling head curve. */
struct curve_sample {
    double x, value, slope;
};
enum { CURVE_POINTS = 6, CURVE_SAMPLES = 12 };
extern const double curve_x[CURVE_POINTS], curve_y[CURVE_POINTS];
extern const struct curve_sample curve_samples[CURVE_SAMPLES];

/* Drawdown over tank volume in psi at 14.7 psi, computed from Boyle's law; precharge at the start
 * and 2 psi under it (common practice, no source). */
struct psi_row {
    double low, high, at_start, under_start;
};
enum { PSI_ROWS = 5 };
extern const struct psi_row psi_rows[PSI_ROWS];

/* The same in bar, computed from p V^n = const from the precharge on, one path. */
struct bar_row {
    double low, high, at_start, under, tenth_under, n12, n14;
};
enum { BAR_ROWS = 7 };
extern const struct bar_row bar_rows[BAR_ROWS];

/* 2.0/3.5 bar gauge, precharge at the start; computed from Boyle's law and ISO 2533. */
struct altitude_row {
    double height, factor;
};
enum { ALTITUDE_ROWS = 4 };
extern const struct altitude_row altitude_rows[ALTITUDE_ROWS];

/* 24 L, 2.0/3.5 bar gauge, computed from Boyle's law; bar gauge and litres. */
struct precharge_row {
    double precharge, at_low, at_high, drawdown;
};
enum { PRECHARGE_ROWS = 11 };
extern const struct precharge_row precharge_rows[PRECHARGE_ROWS];

#endif
