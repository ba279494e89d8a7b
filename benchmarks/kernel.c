/* The nonlinear march of physics/compiled_kernels.py by hand: the same scheme, cells and steps, 32
 * draws side by side in fixed arrays that stay in the first cache. benchmarks/c_kernel.py compiles
 * it at benchmark time, with the number of cells from the engine. */

#include <math.h>

#ifndef CELLS
#define CELLS 28
#endif
#define LANES 32
#define SERIES 5
#define EACH _Pragma("omp simd") for (int k = 0; k < LANES; k++)

typedef double row[LANES];

static const double C[9] = {
    1.0000000000000000e+00, 1.0000000000000000e+00, 5.0000000000000000e-01,
    1.6666666666666666e-01, 4.1666666666666664e-02, 8.3333333333333332e-03,
    1.3888888888888889e-03, 1.9841269841269841e-04, 2.4801587301587302e-05};

static inline double power_of_e(double x)
{
    double y = x * (1.0 / 16.0);
    y = C[0] + y * (C[1] + y * (C[2] + y * (C[3] + y * (C[4] + y * (C[5] + y * (C[6] + y * (C[7]
        + y * C[8])))))));
    y *= y;
    y *= y;
    y *= y;
    return y * y;
}

typedef struct {
    row volume[CELLS], reach[CELLS], lag_in[CELLS], lag_out[CELLS];
    row now[CELLS + 1], last[CELLS + 1], last2[CELLS + 1];
    row load[CELLS], folded[CELLS], ratio[CELLS], root[CELLS + 1];
    row base, steep, middle, low, high, outside, ease, wall0, wall1;
    row held, carry, lost, lost1, lost2, before, flow;
    row ring[4][SERIES];
} work;

static double foretell(work *w, double size, int place)
{
    double rate, a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;
    double at = place * size;
    if (place == 1) {
        rate = 1.0 / (size * size * size);
    } else if (place == 2) {
        rate = 1.5 / (3.0 * at * at * size);
        a = 2.0 / 1.5, b = -0.5 / 1.5, d = 2, e = -1;
    } else {
        double weight = 11.0 / 6.0;
        rate = weight / (3.0 * at * at * size);
        a = 3.0 / weight, b = -1.5 / weight, c = 1.0 / 3.0 / weight, d = 3, e = -3, f = 1;
    }
    for (int i = 0; i < CELLS; i++)
        EACH {
            double u = w->now[i][k], v = w->last[i][k], x = w->last2[i][k];
            w->folded[i][k] = rate * (a * u + b * v + c * x);
            w->now[i][k] = d * u + e * v + f * x;
            w->last[i][k] = u;
            w->last2[i][k] = v;
        }
    EACH {
        double u = w->now[CELLS][k], v = w->last[CELLS][k], x = w->last2[CELLS][k];
        w->now[CELLS][k] = d * u + e * v + f * x;
        w->last[CELLS][k] = u;
        w->last2[CELLS][k] = v;
        u = w->lost[k], v = w->lost1[k], x = w->lost2[k];
        w->before[k] = a * u + b * v + c * x;
        w->lost1[k] = u;
        w->lost2[k] = v;
        w->carry[k] = 0;
    }
    for (int i = 0; i < CELLS - 1; i++)
        EACH {
            double inner = w->folded[i][k], outer = w->folded[i + 1][k];
            double lagging = w->lag_in[i][k] * inner + w->lag_out[i][k] * outer;
            w->load[i][k] = w->volume[i][k] * inner + (lagging - w->carry[k]);
            w->carry[k] = lagging;
        }
    EACH w->load[CELLS - 1][k] =
        w->volume[CELLS - 1][k] * w->folded[CELLS - 1][k] - w->carry[k];
    return rate;
}

static void solve(work *w, double rate)
{
    for (int i = 0; i <= CELLS; i++)
        EACH {
            double u = w->now[i][k];
            u = u > w->low[k] ? u : w->low[k];
            u = u < w->high[k] ? u : w->high[k];
            w->root[i][k] = w->base[k] * power_of_e(w->steep[k] * (u - w->middle[k]));
        }
    EACH {
        w->held[k] = rate * w->volume[0][k];
        w->carry[k] = w->load[0][k];
    }
    for (int i = 0; i < CELLS - 1; i++)
        EACH {
            double g = w->root[i][k], h = w->root[i + 1][k];
            double through = w->reach[i][k] * (g * g + h * h + 4.0 * (g * h));
            double outward = through + rate * w->lag_in[i][k];
            double inward = through - rate * w->lag_out[i][k];
            double inverse = 1.0 / (outward + w->held[k]);
            double ratio = inward * inverse, folded = w->carry[k];
            w->ratio[i][k] = ratio;
            w->folded[i][k] = folded * inverse;
            w->held[k] = rate * w->volume[i + 1][k] + w->held[k] * ratio;
            w->carry[k] = w->load[i + 1][k] + folded * outward * inverse;
        }
    EACH {
        double g = w->root[CELLS - 1][k], h = w->root[CELLS][k], ease = 1.0 / w->held[k];
        double through = w->reach[CELLS - 1][k] * (g * g + h * h + 4.0 * (g * h));
        double still = w->carry[k] * ease, resistance = ease + 1.0 / through;
        double flow = (still - w->outside[k]) / (resistance + w->ease[k]);
        w->now[CELLS][k] = still - resistance * flow;
        w->now[CELLS - 1][k] = still - flow * ease;
        w->lost[k] = w->before[k] + flow / rate;
        w->flow[k] = flow;
    }
    for (int i = CELLS - 2; i >= 0; i--)
        EACH w->now[i][k] = w->folded[i][k] + w->ratio[i][k] * w->now[i + 1][k];
}

static void record(work *w, int place)
{
    row *at = w->ring[place & 3];
    EACH {
        at[0][k] = 0;
        at[1][k] = w->wall0[k] * w->now[0][k] + w->wall1[k] * w->now[1][k];
        at[2][k] = w->now[CELLS][k];
        at[3][k] = w->lost[k];
        at[4][k] = w->flow[k];
    }
    for (int i = 0; i < CELLS; i++)
        EACH at[0][k] += w->volume[i][k] * w->now[i][k];
}

static void lay_out(work *w, const double *cells, const double *draws, int count, int first)
{
    row *kinds[5] = {w->volume, w->reach, w->lag_in, w->lag_out, w->now};
    double *rows[9] = {w->base, w->steep, w->middle, w->low, w->high, w->outside, w->ease,
                       w->wall0, w->wall1};
    for (int k = 0; k < LANES; k++) {
        int draw = first + k < count ? first + k : count - 1;
        for (int kind = 0; kind < 5; kind++)
            for (int i = 0; i < CELLS; i++)
                kinds[kind][i][k] = cells[(kind * CELLS + i) * (long)count + draw];
        for (int kind = 0; kind < 9; kind++)
            rows[kind][k] = draws[kind * (long)count + draw];
        w->now[CELLS][k] = draws[9 * (long)count + draw];
        w->flow[k] = draws[10 * (long)count + draw];
        w->lost[k] = w->lost1[k] = w->lost2[k] = 0;
    }
    for (int i = 0; i <= CELLS; i++)
        EACH w->last[i][k] = w->last2[i][k] = w->now[i][k];
}

void march(const double *cells, const double *draws, int count, double size, int steps, int corrected,
           const long *firsts, const double *shares, int outputs, double *series, double *final)
{
    static _Thread_local work w __attribute__((aligned(64)));
    for (int first = 0; first < count; first += LANES) {
        int width = count - first < LANES ? count - first : LANES, output = 0;
        lay_out(&w, cells, draws, count, first);
        record(&w, 0);
        for (int place = 1; place <= steps; place++) {
            double rate = foretell(&w, size, place);
            solve(&w, rate);
            if (place <= corrected)
                solve(&w, rate);
            record(&w, place);
            for (; output < outputs && firsts[output] + 3 <= place; output++)
                for (int kind = 0; kind < SERIES; kind++)
                    for (int k = 0; k < width; k++) {
                        double total = 0;
                        for (int ahead = 0; ahead < 4; ahead++)
                            total += shares[4 * output + ahead]
                                     * w.ring[(firsts[output] + ahead) & 3][kind][k];
                        series[((long)output * SERIES + kind) * count + first + k] = total;
                    }
        }
        for (int i = 0; i <= CELLS; i++)
            for (int k = 0; k < width; k++)
                final[(long)i * count + first + k] = w.now[i][k];
    }
}
