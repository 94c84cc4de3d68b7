/* Friction, local losses, inertance and elasticity of a pipe. */
#include "friction.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* Below this Reynolds number Churchill's formula is 64 / Re to the last bit. */
static const double laminar_reynolds = 500;

static double power12(double x)
{
    double x4 = x * x * x * x;

    return x4 * x4 * x4;
}

/* Churchill's friction factor above laminar_reynolds, and its derivative in the Reynolds number. */
static double churchill(double reynolds, double relative_roughness, double *slope)
{
    double inverse = 1 / reynolds;
    double thin = pow(7 * inverse, 0.9);
    double z = thin + 0.27 * relative_roughness;

    // rough and smooth turbulence (A) and the jump between the regimes (B)
    double root = -2.457 * log(z);
    double root_slope = 2.457 * 0.9 * thin * inverse / z;
    double root15 = power12(root) * root * root * root;
    double ratio = 37530 * inverse;
    double b = power12(ratio) * ratio * ratio * ratio * ratio;
    double sum = root15 * root + b;
    double sum_slope = 16 * (root15 * root_slope - b * inverse);

    // laminar part and turbulent part
    double laminar = power12(8 * inverse);
    double turbulent = 1 / (sum * sqrt(sum));
    double whole = laminar + turbulent;
    double factor = 8 * pow(whole, 1.0 / 12);

    *slope = -factor / whole * (laminar * inverse + turbulent * sum_slope / (8 * sum));
    return factor;
}

double pd_friction_factor(double reynolds, double relative_roughness)
{
    double slope;

    if (reynolds < laminar_reynolds) {
        return 64 / reynolds;
    }
    return churchill(reynolds, relative_roughness, &slope);
}

double pd_pipe_loss_slope(const struct pd_pipe *pipe, double density, double viscosity, double flow,
                          double *slope)
{
    double area = pi / 4 * pipe->diameter * pipe->diameter;
    double velocity = fabs(flow) / area;
    double reynolds = density * velocity * pipe->diameter / viscosity;
    double local = pipe->loss_k * density / 2;
    double loss, by_velocity;

    if (reynolds < laminar_reynolds) {
        // 64 / Re written out, so that nothing is divided by a flow of zero
        double line = 32 * viscosity * pipe->length / (pipe->diameter * pipe->diameter);
        loss = (line + local * velocity) * velocity;
        by_velocity = line + 2 * local * velocity;
    } else {
        double head = density / 2 * pipe->length / pipe->diameter;
        double factor_slope;
        double factor = churchill(reynolds, pipe->roughness / pipe->diameter, &factor_slope);
        loss = (factor * head + local) * velocity * velocity;
        by_velocity = (2 * (factor * head + local) + head * factor_slope * reynolds) * velocity;
    }
    *slope = by_velocity / area;
    return flow < 0 ? -loss : loss;
}

double pd_pipe_loss(const struct pd_pipe *pipe, double density, double viscosity, double flow)
{
    double slope;

    return pd_pipe_loss_slope(pipe, density, viscosity, flow, &slope);
}

double pd_pipe_inertance(const struct pd_pipe *pipe, double density)
{
    return density * pipe->length / (pi / 4 * pipe->diameter * pipe->diameter);
}

double pd_pipe_compliance(double length, double diameter, double wall, double modulus,
                          double bulk_modulus)
{
    const double restraint = 1;
    double volume = pi / 4 * diameter * diameter * length;
    double stiffness = modulus * wall;
    double stretch = stiffness > 0 ? restraint * diameter / stiffness : 0;

    return volume * (1 / bulk_modulus + stretch);
}
