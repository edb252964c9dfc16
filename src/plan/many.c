#include "plan/many.h"
#include "plan/spread.h"

#include <omp.h>

/* How far each of them is: reports come from the thread that plans it. */
struct ledger {
    const struct plan_progress *progress;
    double *done_frac;
    size_t count;
};

struct listener {
    struct ledger *ledger;
    size_t index;
};

/* One at a time. Added up anew: a sum that is kept would depend on the order of
 * its parts. */
static void tell(struct ledger *ledger, size_t index, double done_frac) {
#pragma omp critical(many_progress)
    {
        double sum = 0.0;
        ledger->done_frac[index] = done_frac;
        for (size_t i = 0; i < ledger->count; i++)
            sum += ledger->done_frac[i];
        ledger->progress->report(ledger->progress->context, "planning",
                                 sum / (double)ledger->count);
    }
}

static void hear(void *context, const char *stage, double done_frac) {
    const struct listener *listener = context;
    (void)stage;
    tell(listener->ledger, listener->index, done_frac);
}

/* What is known of a plan that can't be made. */
static struct plan head_without(const struct world *world,
                                const struct request *request) {
    struct field_summary wind =
        forecast_summary(world->forecast, QUANTITY_WIND);
    return (struct plan){.version = SPARWISE_VERSION,
                         .name = request->name,
                         .boat = &world->boat,
                         .boat_name = world->boat.name,
                         .from = request->from,
                         .to = request->to,
                         .depart = request->depart,
                         .forecast_run = forecast_run(world->forecast),
                         .forecast_start = wind.first,
                         .forecast_end = wind.last,
                         .ease = request->ease,
                         .display.zone_s = hours_to_s(request->zone_hours)};
}

/* What is left of a plan when its arena is gone. */
static struct plan head_of(const struct many *many, size_t index,
                           const struct plan *plan) {
    struct plan head = head_without(many->world, &many->requests[index]);
    head.coast = plan->coast;
    head.summary = plan->summary;
    head.arrival = plan->arrival;
    head.display = plan->display;
    head.engine.litres = plan->engine.litres;
    head.engine.charging_litres = plan->engine.charging_litres;
    return head;
}

static void take_row(const struct many *many, size_t index,
                     const struct plan_progress *progress,
                     struct many_row *row) {
    const struct request *request = &many->requests[index];
    struct plan *plan;
    bool keep = many->kept && index == many->kept_index;
    struct arena own;
    arena_init(&own);
    *row = (struct many_row){.planned = false};
    row->planned = plan_passage(many->world, request, progress,
                                keep ? many->kept : &own, &plan, &row->error);
    if (row->planned) {
        row->plan = head_of(many, index, plan);
        row->whole = keep ? plan : NULL;
        if (plan->summary.reached)
            row->members = spread_arrivals(plan, request, many->members,
                                           many->member_count);
    } else {
        row->plan = head_without(many->world, request);
    }
    arena_free(&own);
}

void many_plan(const struct many *many, struct many_row *rows) {
    struct arena arena;
    arena_init(&arena);
    bool heard = many->progress && many->progress->report;
    struct ledger ledger = {
        .progress = many->progress,
        .done_frac = arena_alloc(&arena, many->count + 1, sizeof(double)),
        .count = many->count};
    /* a search within takes the one thread that its plan has */
    omp_set_max_active_levels(1);
#pragma omp parallel for schedule(dynamic, 1) if (many->count > 1)
    for (size_t i = 0; i < many->count; i++) {
        struct listener listener = {&ledger, i};
        struct plan_progress progress = {hear, &listener};
        take_row(many, i, heard ? &progress : NULL, &rows[i]);
        if (heard)
            tell(&ledger, i, 1.0);
    }
    arena_free(&arena);
}
