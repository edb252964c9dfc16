#include "report/engine_report.h"

#include "base/units.h"
#include "earth/position.h"
#include "report/clock.h"
#include "report/sheet.h"
#include "report/words.h"

static const double SAME_KN = 0.1;

/* "slower than 2.5 kn, in true wind up to 12 kn". */
static const char *rule(struct arena *arena, const struct plan *plan,
                        double below_mps) {
    double most_kn = mps_to_kn(plan->engine.motoring.max_wind_mps);
    if (below_mps <= 0.0)
        return "nowhere";
    return arena_print(arena,
                       "where she would sail slower than %.1f kn in true wind "
                       "up to %.0f kn",
                       mps_to_kn(below_mps), most_kn);
}

/* Speeds that are the same when printed need no moment between them. */
static bool has_moment(const struct plan *plan) {
    const struct motoring *motoring = &plan->engine.motoring;
    return motoring->until_s > 0.0 &&
           motoring->until_s < plan->summary.elapsed_s &&
           motoring->below_mps - motoring->later_below_mps > kn_to_mps(SAME_KN);
}

/* Is she held to less than the boat file's rule, for the fuel? */
static bool is_rationed(const struct plan *plan) {
    return plan->engine.motoring.below_mps <
               plan->boat->motor.below_mps.value ||
           has_moment(plan);
}

void engine_report_departure(const struct plan *plan, FILE *stream) {
    const struct plan_engine *engine = &plan->engine;
    char text[SHARP_TEXT_SIZE];
    if (engine->run_count == 0 ||
        instant_minus(engine->runs[0].start.at, plan->depart) > 0.0)
        return;
    clock_print(plan, engine->runs[0].end.at, text);
    sheet_entry(stream, "Engine", "on, until about %s", text);
}

static void write_rule(struct arena *arena, const struct plan *plan,
                       FILE *stream) {
    const struct motoring *motoring = &plan->engine.motoring;
    char text[SHARP_TEXT_SIZE];
    if (!has_moment(plan)) {
        sheet_entry(stream, "Runs", "%s",
                    rule(arena, plan, motoring->below_mps));
        return;
    }
    clock_print(plan, instant_plus(plan->depart, motoring->until_s), text);
    sheet_entry(stream, "Runs", "%s; after %s %s",
                rule(arena, plan, motoring->below_mps), text,
                rule(arena, plan, motoring->later_below_mps));
}

static const char *charging(struct arena *arena, const struct plan *plan) {
    double litres = plan->engine.charging_litres;
    return litres > 0.0 ? arena_print(arena, ", %.0f of them to charge", litres)
                        : "";
}

static void write_fuel(struct arena *arena, const struct plan *plan,
                       FILE *stream) {
    const struct motor *motor = &plan->boat->motor;
    double left = motor->fuel_litres.value - plan->engine.litres;
    sheet_entry(stream, "Fuel",
                "%.0f litres%s; %.0f of %.0f litres left, the reserve of %.0f "
                "among them%s",
                plan->engine.litres, charging(arena, plan), left,
                motor->fuel_litres.value, motor->reserve_litres.value,
                is_rationed(plan) ? ": there is none for more motoring" : "");
}

void engine_report_write(const struct plan *plan, FILE *stream) {
    const struct plan_engine *engine = &plan->engine;
    double lph = plan->boat->motor.litres_per_hour.value;
    struct arena arena;
    if (engine->run_count == 0)
        return;
    arena_init(&arena);
    sheet_heading(stream, "ENGINE");
    write_rule(&arena, plan, stream);
    for (size_t i = 0; i < engine->run_count; i++) {
        const struct plan_engine_run *run = &engine->runs[i];
        char span[CLOCK_SPAN_SIZE], place[POSITION_TEXT_SIZE];
        clock_print_span(plan, run->start.at, run->end.at, span);
        position_print(run->start.position, place);
        sheet_entry(stream, "On", "between %s, from %s on: %s, %.0f litres",
                    span, place, words_duration(&arena, run->motored_s),
                    lph * s_to_hours(run->motored_s));
    }
    write_fuel(&arena, plan, stream);
    arena_free(&arena);
}

void engine_report_summary(const struct plan *plan, FILE *stream) {
    const struct plan_summary *summary = &plan->summary;
    struct arena arena;
    if (!summary->motor_s.known)
        return;
    arena_init(&arena);
    sheet_entry(stream, "Engine", "%s, %.0f litres%s",
                summary->motor_s.value > 0.0
                    ? words_duration(&arena, summary->motor_s.value)
                    : "not used",
                plan->engine.litres, charging(&arena, plan));
    arena_free(&arena);
}
