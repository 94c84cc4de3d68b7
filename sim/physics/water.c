/* Liquid water by the releases of the International Association for the Properties of Water and
 * Steam.  Hides their coefficients.  Region 1 is left only below the saturation pressure, where its
 * equation still gives the (metastable) liquid. */
#include <pumpday/water.h>

#include <math.h>
#include <stddef.h>

/* One term of the Gibbs energy: coefficient * (7.1 - pi)^i * (tau - 1.222)^j. */
struct gibbs_term {
    int i, j;
    double n;
};

/* IAPWS R7-97(2012), Table 2.  Its terms 1 to 8 hold no pressure and so give neither volume nor
 * compressibility. */
static const struct gibbs_term region1[] = {
    {1, -9, 0.28319080123804e-3},     {1, -7, -0.60706301565874e-3},
    {1, -1, -0.18990068218419e-1},    {1, 0, -0.32529748770505e-1},
    {1, 1, -0.21841717175414e-1},     {1, 3, -0.52838357969930e-4},
    {2, -3, -0.47184321073267e-3},    {2, 0, -0.30001780793026e-3},
    {2, 1, 0.47661393906987e-4},      {2, 3, -0.44141845330846e-5},
    {2, 17, -0.72694996297594e-15},   {3, -4, -0.31679644845054e-4},
    {3, 0, -0.28270797985312e-5},     {3, 6, -0.85205128120103e-9},
    {4, -5, -0.22425281908000e-5},    {4, -2, -0.65171222895601e-6},
    {4, 10, -0.14341729937924e-12},   {5, -8, -0.40516996860117e-6},
    {8, -11, -0.12734301741641e-8},   {8, -6, -0.17424871230634e-9},
    {21, -29, -0.68762131295531e-18}, {23, -31, 0.14478307828521e-19},
    {29, -38, 0.26335781662795e-22},  {30, -39, -0.11947622640071e-22},
    {31, -40, 0.18228094581404e-23},  {32, -41, -0.93537087292458e-25},
};
static const double gas_constant = 461.526;     /* J/(kg K), R7-97 eq. 1 */
static const double region1_pressure = 16.53e6; /* Pa */
static const double region1_temperature = 1386; /* K */

/* First and second derivative of the dimensionless Gibbs energy in the reduced pressure. */
static void gibbs_by_pressure(double temperature, double pressure, double *first, double *second)
{
    double x = 7.1 - pressure / region1_pressure;
    double y = region1_temperature / temperature - 1.222;

    *first = 0;
    *second = 0;
    for (size_t k = 0; k < sizeof region1 / sizeof region1[0]; k++) {
        const struct gibbs_term *term = &region1[k];
        double common = term->n * term->i * pow(y, term->j);
        *first -= common * pow(x, term->i - 1);
        *second += common * (term->i - 1) * pow(x, term->i - 2);
    }
}

double pd_water_specific_volume(double temperature, double pressure)
{
    double first, second;

    gibbs_by_pressure(temperature, pressure, &first, &second);
    return gas_constant * temperature * first / region1_pressure;
}

double pd_water_compressibility(double temperature, double pressure)
{
    double first, second;

    gibbs_by_pressure(temperature, pressure, &first, &second);
    return -second / (first * region1_pressure);
}

/* IAPWS R7-97(2012), Table 34 and eq. 30. */
double pd_water_saturation_pressure(double temperature)
{
    static const double n[10] = {
        0.11670521452767e4,  -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5,
        -0.32325550322333e7, 0.14915108613530e2,  -0.48232657361591e4, 0.40511340542057e6,
        -0.23855557567849,   0.65017534844798e3,
    };
    double t = temperature + n[8] / (temperature - n[9]);
    double a = (t + n[0]) * t + n[1];
    double b = (n[2] * t + n[3]) * t + n[4];
    double c = (n[5] * t + n[6]) * t + n[7];
    double root = 2 * c / (-b + sqrt(b * b - 4 * a * c));

    return 1e6 * root * root * root * root;
}

/* IAPWS R12-08, eq. 11 and Table 1: the viscosity in the limit of no density, 1e-6 Pa s. */
static double dilute_viscosity(double reduced_temperature)
{
    double x = 1 / reduced_temperature;

    return 100 * sqrt(reduced_temperature) /
           (1.67752 + x * (2.20462 + x * (0.6366564 - x * 0.241605)));
}

/* IAPWS R12-08, eq. 12 and Table 2: the factor of a finite density. */
static double density_factor(double reduced_density, double reduced_temperature)
{
    static const double h[6][7] = {
        {5.20094e-1, 2.22531e-1, -2.81378e-1, 1.61913e-1, -3.25372e-2, 0, 0},
        {8.50895e-2, 9.99115e-1, -9.06851e-1, 2.57399e-1, 0, 0, 0},
        {-1.08374, 1.88797, -7.72479e-1, 0, 0, 0, 0},
        {-2.89555e-1, 1.26613, -4.89837e-1, 0, 6.98452e-2, 0, -4.35673e-3},
        {0, 0, -2.57040e-1, 0, 0, 8.72102e-3, 0},
        {0, 1.20573e-1, 0, 0, 0, 0, -5.93264e-4},
    };
    double x = 1 / reduced_temperature - 1;
    double y = reduced_density - 1;
    double sum = 0;

    // both sums by Horner's rule, highest power first
    for (int i = 5; i >= 0; i--) {
        double row = 0;
        for (int j = 6; j >= 0; j--) {
            row = row * y + h[i][j];
        }
        sum = sum * x + row;
    }
    return exp(reduced_density * sum);
}

double pd_water_viscosity(double density, double temperature)
{
    double t = temperature / 647.096;

    return 1e-6 * dilute_viscosity(t) * density_factor(density / 322.0, t);
}

struct pd_water pd_water_at(double temperature, double pressure)
{
    struct pd_water water;

    water.density = 1 / pd_water_specific_volume(temperature, pressure);
    water.viscosity = pd_water_viscosity(water.density, temperature);
    water.vapour_pressure = pd_water_saturation_pressure(temperature);
    water.bulk_modulus = 1 / pd_water_compressibility(temperature, pressure);
    return water;
}
