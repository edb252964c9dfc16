#include "report/roll_seen_report.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "report/sheet.h"
#include "report/words.h"
#include <math.h>
#include <string.h>

/* Told rolls that differ by less are alike: nobody sees half a degree. */
#define ALIKE_DEG 0.5

/* --- one observation ------------------------------------------------------ */

/* "often 9.9", of an RMS roll. */
static char *told_roll(struct arena *arena, const struct roll_seen *seen,
                       double rms_deg) {
    return arena_print(arena, "%s %.1f",
                       seen->measure == ROLL_OFTEN ? "often" : "at times",
                       rms_deg * (double)seen->measure);
}

static char *waves_of(struct arena *arena, const struct roll_seen *seen) {
    char *text = arena_copy(arena, "");
    for (int i = 0; i < SEA_SYSTEMS; i++) {
        const struct wave_system *system = &seen->sea.system[i];
        if (!system->known)
            continue;
        text = arena_print(
            arena, "%s; %s %g m %g s from %s", text,
            i == 0 ? "wind sea" : "swell", system->height_m, system->period_s,
            seen->bearing == BEARING_OF_NONE
                ? "the wind's direction"
                : arena_print(arena, "%03d", words_degrees(system->from_deg)));
    }
    return text;
}

static char *spar_of(struct arena *arena, enum spar_seen spar) {
    static const char *const words[] = {"spar stowed",
                                        "spar to windward, headsail drawing",
                                        "spar to leeward, headsail drawing"};
    return arena_copy(arena, words[spar]);
}

static void print_taken(FILE *stream, struct arena *arena,
                        const struct roll_seen *seen,
                        const struct roll_course *course) {
    const char *bearing = "";
    if (seen->bearing != BEARING_OF_NONE)
        bearing = arena_print(arena, " from %03d, heading %03d",
                              words_degrees(seen->wind_from_deg),
                              words_degrees(seen->heading_deg));
    sheet_entry(stream, "Taken as",
                "wind on the %s side%s; %.1f kn through the water by the "
                "polar, %.1f kn of apparent wind%s; %s",
                words_side(seen->wind_starboard), bearing,
                mps_to_kn(course->speed_mps), mps_to_kn(course->aws_mps),
                waves_of(arena, seen), spar_of(arena, seen->spar));
}

static void print_assumed(FILE *stream, const struct roll_seen *seen) {
    int wind_deg = words_degrees(seen->wind_from_deg);
    if (seen->bearing == BEARING_OF_SEA)
        sheet_entry(stream, "Assumed",
                    "neither heading nor wind direction is given: the wind "
                    "comes from %03d, where the wind sea comes from",
                    wind_deg);
    else if (seen->bearing == BEARING_OF_NONE)
        sheet_entry(stream, "Assumed",
                    "no direction is given: the wind sea comes from the "
                    "wind's own");
    else if (seen->sea_with_wind)
        sheet_entry(stream, "Assumed",
                    "the wind sea, given without a direction, comes from the "
                    "wind's own, %03d",
                    wind_deg);
    if (!seen->side_told && fabs(seen->twa_deg) < 180.0)
        sheet_entry(stream, "Assumed",
                    "no side is given: the wind is on the starboard side");
}

static void print_beyond(FILE *stream, const struct boat *boat,
                         const struct roll_seen *seen,
                         const struct roll_course *course) {
    if (seen->spar == SPAR_SEEN_STOWED)
        return;
    bool windward = seen->spar == SPAR_SEEN_WINDWARD;
    struct apparent felt =
        apparent_wind(seen->twa_deg, seen->tws_mps, course->speed_mps);
    if (spar_allows_angle(&boat->spar, windward, felt.awa_deg) &&
        spar_allows_wind(&boat->spar, windward, seen->tws_mps))
        return;
    sheet_entry(stream, "Note",
                "the spar is outside its ranges of the boat file there");
}

static void print_roll(FILE *stream, struct arena *arena,
                       const struct roll_seen *seen,
                       const struct roll_fit_case *one) {
    const char *after = "";
    if (one->tells < SAIL_PARTS)
        after = arena_print(arena, ", %s by the fit",
                            told_roll(arena, seen, one->after_deg));
    sheet_entry(stream, "Roll", "degrees: %s by the boat file%s; seen: %s",
                told_roll(arena, seen, one->before_deg), after,
                told_roll(arena, seen, roll_seen_rms_deg(seen)));
}

/* Where the fit is not what was seen, by how much and why. */
static void print_missed(FILE *stream, struct arena *arena,
                         const struct roll_seen *seen,
                         const struct roll_fit_case *one) {
    double seen_deg = roll_seen_rms_deg(seen);
    double missed_deg = (one->after_deg - seen_deg) * (double)seen->measure;
    if (fabs(missed_deg) < ALIKE_DEG)
        return;
    bool too_much = missed_deg > 0.0;
    double end_deg = too_much ? one->least_deg : one->most_deg;
    const char *why = "the fit lies between observations that do not agree";
    if (too_much ? seen_deg < end_deg : seen_deg > end_deg)
        why = arena_print(arena,
                          "no %s rolls her %s than %s; look for the rest in "
                          "the waves as judged, roll_period_s and roll_damping",
                          sail_part_key(one->tells), too_much ? "less" : "more",
                          told_roll(arena, seen, end_deg));
    sheet_entry(stream, "Missed", "by %.1f degrees, the fit too %s: %s",
                fabs(missed_deg), too_much ? "much" : "little", why);
}

static void print_one(FILE *stream, struct arena *arena,
                      const struct roll_sheet *sheet, size_t i) {
    const struct roll_seen *seen = &sheet->seen[i];
    const struct roll_fit_case *one = &sheet->each[i];
    fputc('\n', stream);
    sheet_paragraph(stream, 0, 2,
                    arena_print(arena, "%zu. %s", i + 1, seen->text));
    print_taken(stream, arena, seen, &sheet->cases[i].course);
    print_assumed(stream, seen);
    print_beyond(stream, sheet->boat, seen, &sheet->cases[i].course);
    print_roll(stream, arena, seen, one);
    if (one->tells == SAIL_PARTS) {
        sheet_entry(stream, "Tells",
                    "nothing: the sails hardly change her roll there");
        return;
    }
    sheet_entry(stream, "Tells", "%s", sail_part_key(one->tells));
    print_missed(stream, arena, seen, one);
}

/* --- the keys ------------------------------------------------------------- */

static const char *file_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* Is anything that was seen within what the key can give? A fit to what is not
 * ends at a bound, and nobody should sail by that. */
static bool is_offered(const struct roll_sheet *sheet, enum sail_part part) {
    for (size_t i = 0; i < sheet->count; i++) {
        const struct roll_fit_case *one = &sheet->each[i];
        double seen_deg = roll_seen_rms_deg(&sheet->seen[i]);
        double slack_deg = ALIKE_DEG / (double)sheet->seen[i].measure;
        if (one->tells == part && seen_deg > one->least_deg - slack_deg &&
            seen_deg < one->most_deg + slack_deg)
            return true;
    }
    return false;
}

static void print_keys(FILE *stream, struct arena *arena,
                       const struct roll_sheet *sheet) {
    const struct roll_fit *fit = sheet->fit;
    sheet_heading(stream,
                  "To paste into %s, in place of these keys where it has them:",
                  words_ascii(arena, file_name(sheet->boat->path)));
    fputs("\n[boat]\n", stream);
    for (int i = 0; i < SAIL_PARTS; i++)
        if (is_offered(sheet, (enum sail_part)i))
            fprintf(stream, "%s = %g\n", sail_part_key((enum sail_part)i),
                    sail_part_value(&fit->fitted, (enum sail_part)i));
}

static void print_keys_told(FILE *stream, struct arena *arena,
                            const struct roll_sheet *sheet) {
    const struct roll_fit *fit = sheet->fit;
    fputc('\n', stream);
    for (int i = 0; i < SAIL_PARTS; i++) {
        enum sail_part part = (enum sail_part)i;
        const char *key = sail_part_key(part);
        double old = sail_part_value(&sheet->boat->roller, part);
        if (!fit->told[i])
            sheet_item(stream, "*",
                       arena_print(arena,
                                   "%s stays at %g: nothing that was seen "
                                   "tells it",
                                   key, old));
        else if (!is_offered(sheet, part))
            sheet_item(stream, "*",
                       arena_print(arena,
                                   "%s stays at %g: no value of it gives what "
                                   "was seen",
                                   key, old));
        else
            sheet_item(stream, "*",
                       arena_print(arena,
                                   "%s was %g; had the waves been a fifth "
                                   "lower than judged, it would be %g, a "
                                   "fifth higher, %g",
                                   key, old,
                                   sail_part_value(&fit->in_lower, part),
                                   sail_part_value(&fit->in_higher, part)));
    }
}

static void print_limits(FILE *stream, const struct boat *boat) {
    sheet_heading(stream, "What this can't know");
    sheet_item(stream, "*",
               "Waves and roll are judged by eye, and one observation is one "
               "observation: take several, in other winds and seas.");
    sheet_item(stream, "*",
               "Whatever the hull does not explain is put down to the sails. "
               "Her speed is that of the polars, by day.");
    if (boat->roller.period_estimated)
        sheet_item(stream, "*",
                   "The roll period is estimated, and an error of it goes into "
                   "these keys: measure it first.");
}

void roll_seen_report(const struct roll_sheet *sheet, FILE *stream) {
    struct arena arena;
    arena_init(&arena);
    bool any = false;
    for (int i = 0; i < SAIL_PARTS; i++)
        any |= is_offered(sheet, (enum sail_part)i);
    sheet_paragraph(stream, 0, 0,
                    arena_print(&arena, "%s: the sails' part of the roll",
                                words_ascii(&arena, sheet->boat->name)));
    for (size_t i = 0; i < sheet->count; i++)
        print_one(stream, &arena, sheet, i);
    if (any)
        print_keys(stream, &arena, sheet);
    else
        sheet_heading(stream, "Nothing to paste.");
    print_keys_told(stream, &arena, sheet);
    print_limits(stream, sheet->boat);
    arena_free(&arena);
}
