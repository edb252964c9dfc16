#include "boat/boat_keys.h"

#include "base/units.h"

/* File units to SI. */
#define KN (METRES_PER_NMI / SECONDS_PER_HOUR)
#define MINUTES SECONDS_PER_MINUTE

#define AT(member) offsetof(struct boat_reading, boat.member)

static const char *const preventers[] = {"both", "single", NULL};

/* Section, name, kind, place, range, scale to SI, unit, default (NULL: must
 * be given), choices, help. */
static const struct key keys[] = {
    {"boat", "name", KEY_TEXT, AT(name), 0, 0, 0, "", NULL, NULL,
     "as it stands in the schedule"},
    {"boat", "length_waterline_m", KEY_NUMBER, AT(length_waterline_m), 2, 60, 0,
     "m", NULL, NULL, "length of the waterline"},
    {"boat", "beam_m", KEY_NUMBER, AT(beam_m), 0.5, 20, 0, "m", NULL, NULL,
     "greatest beam"},
    {"boat", "draft_m", KEY_NUMBER, AT(draft_m), 0.1, 10, 0, "m", NULL, NULL,
     "draft with the keel"},
    {"boat", "displacement_kg", KEY_NUMBER, AT(displacement_kg), 100, 500000, 0,
     "kg", NULL, NULL, "loaded for the passage"},
    {"boat", "roll_period_s", KEY_FIGURE, AT(roll_period_s), 1, 12, 0, "s", "",
     NULL,
     "natural roll period, measured at rest: the time of one roll, from one "
     "side to the other and back, not of ten; estimated where left out"},
    {"boat", "metacentric_height_m", KEY_FIGURE, AT(metacentric_height_m), 0.1,
     5, 0, "m", "", NULL,
     "to estimate the period from; from the beam without it"},
    {"boat", "roll_damping", KEY_NUMBER, AT(roller.damping), 0.01, 0.5, 0, "",
     "0.08", NULL, "of the hull and keel, as a fraction of critical"},
    {"boat", "sail_roll_reach", KEY_NUMBER, AT(roller.sail_reach), 0, 0.5, 0,
     "", "0.25", NULL,
     "the sails add this to the damping up to 130 degrees of true wind: they "
     "steady the boat three times as much as the bare hull does"},
    {"boat", "sail_roll_run_loose", KEY_NUMBER, AT(roller.sail_run_loose), -0.3,
     0.3, 0, "", "-0.05", NULL,
     "the same dead before the wind, the headsail blanketed and loose: less "
     "than 0, for it feeds the roll"},
    {"boat", "sail_roll_run_spar", KEY_NUMBER, AT(roller.sail_run_spar), -0.3,
     0.3, 0, "", "0.03", NULL,
     "the same with the spar holding the headsail out: a sail on either side "
     "damps a little, and feeds little"},

    {"polars", "stowed", KEY_PATH, AT(stowed_path), 0, 0, 0, "", NULL, NULL,
     "polar with the spar stowed"},
    {"polars", "spar", KEY_PATH, AT(spar_path), 0, 0, 0, "", NULL, NULL,
     "polar with the spar out and the headsail drawing on it"},
    {"polars", "factor", KEY_NUMBER, AT(factor), 0.2, 1.5, 0, "", "1", NULL,
     "times both polars: load, growth on the hull, an easy crew"},
    {"polars", "night_factor", KEY_NUMBER, AT(night_factor), 0.2, 1.5, 0, "",
     "1", NULL, "times both once more in darkness"},

    {"spar", "length_m", KEY_PAIR, AT(spar.length_m), 0.5, 20, 0, "m", NULL,
     NULL, "shortest and full length of the spar"},
    {"spar", "wing_awa_deg", KEY_PAIR, AT(spar.wing_awa_deg), 60, 180, 0, "deg",
     "140 180", NULL,
     "apparent wind angles for wing-and-wing, spar to windward"},
    {"spar", "poled_reach_awa_deg", KEY_PAIR, AT(spar.reach_awa_deg), 60, 180,
     0, "deg", "100 145", NULL,
     "apparent wind angles for the poled reach, spar to leeward"},
    {"spar", "angle_margin_deg", KEY_NUMBER, AT(spar.angle_margin_deg), 0, 30,
     0, "deg", "5", NULL,
     "narrows both ranges for yaw and surfing, but not at 180"},
    {"spar", "wing_max_wind_kn", KEY_NUMBER, AT(spar.wing_max_wind_mps), 1, 80,
     KN, "kn", "22", NULL, "most true wind for wing-and-wing"},
    {"spar", "wing_max_gust_kn", KEY_NUMBER, AT(spar.wing_max_gust_mps), 1, 100,
     KN, "kn", "28", NULL, "most gust for wing-and-wing"},
    {"spar", "poled_reach_max_wind_kn", KEY_NUMBER, AT(spar.reach_max_wind_mps),
     1, 80, KN, "kn", "20", NULL, "most true wind for the poled reach"},
    {"spar", "poled_reach_max_gust_kn", KEY_NUMBER, AT(spar.reach_max_gust_mps),
     1, 100, KN, "kn", "25", NULL, "most gust for the poled reach"},
    {"spar", "set_minutes", KEY_NUMBER, AT(spar.set_s), 0, 240, MINUTES, "min",
     "20", NULL, "to set the spar by day"},
    {"spar", "gybe_minutes", KEY_NUMBER, AT(spar.gybe_s), 0, 240, MINUTES,
     "min", "30", NULL,
     "to bring the spar to the other side, mainsail and preventer included"},
    {"spar", "stow_minutes", KEY_NUMBER, AT(spar.stow_s), 0, 240, MINUTES,
     "min", "15", NULL, "to stow the spar by day"},
    {"spar", "roll_minutes", KEY_NUMBER, AT(spar.roll_s), 0, 60, MINUTES, "min",
     "3", NULL, "to roll the headsail away or unroll it, the spar standing"},
    {"spar", "work_speed_frac", KEY_NUMBER, AT(spar.work_speed_frac), 0, 1, 0,
     "", "0.7", NULL, "of the stowed polar, while the crew works on deck"},
    {"spar", "rolled_speed_frac", KEY_NUMBER, AT(spar.rolled_speed_frac), 0, 1,
     0, "", "0.7", NULL,
     "of the stowed polar, the headsail rolled and the spar standing"},
    {"spar", "night_minutes_factor", KEY_NUMBER, AT(spar.night_factor), 0.5, 10,
     0, "", "1.5", NULL, "times all these minutes at night"},
    {"spar", "landfall_nmi", KEY_NUMBER, AT(spar.landfall_m), 0, 500,
     METRES_PER_NMI, "nmi", "5", NULL,
     "the spar is stowed at least so far off the finish"},
    {"spar", "max_compression_N", KEY_FIGURE, AT(spar.max_compression_n), 1,
     1e6, 0, "N", "", NULL, "safe load along the spar, from its maker"},
    {"spar", "tube_diameter_mm", KEY_FIGURE, AT(spar.tube_diameter_mm), 10, 500,
     0, "mm", "", NULL, "outside, of the thinnest tube"},
    {"spar", "wall_mm", KEY_FIGURE, AT(spar.wall_mm), 0.3, 50, 0, "mm", "",
     NULL, "thickness of its wall"},
    {"spar", "material", KEY_TEXT, AT(spar.material), 0, 0, 0, "", "", NULL,
     "of the tube: aluminium, carbon, wood"},

    {"work", "max_wind_kn", KEY_NUMBER, AT(work.max_wind_mps), 1, 80, KN, "kn",
     "18", NULL, "most true wind to set or gybe the spar in"},
    {"work", "max_gust_kn", KEY_NUMBER, AT(work.max_gust_mps), 1, 100, KN, "kn",
     "22", NULL, "most gust for it"},
    {"work", "max_wave_m", KEY_NUMBER, AT(work.max_wave_m), 0.1, 30, 0, "m",
     "2.5", NULL, "greatest significant wave height to go forward in"},
    {"work", "max_roll_deg", KEY_NUMBER, AT(work.max_roll_deg), 0.1, 45, 0,
     "deg", "4", NULL, "most RMS roll to go forward in"},
    {"work", "stow_max_wind_kn", KEY_NUMBER, AT(work.stow_max_wind_mps), 1, 80,
     KN, "kn", "22", NULL, "most true wind to stow the spar in"},
    {"work", "stow_max_gust_kn", KEY_NUMBER, AT(work.stow_max_gust_mps), 1, 100,
     KN, "kn", "28", NULL, "most gust for it"},
    {"work", "day_hardship_minutes", KEY_NUMBER, AT(work.day_hardship_s), 0,
     1440, MINUTES, "min", "30", NULL,
     "of sailing that one piece of deck work weighs as much as"},
    {"work", "night_hardship_minutes", KEY_NUMBER, AT(work.night_hardship_s), 0,
     1440, MINUTES, "min", "120", NULL, "the same at night"},

    {"handling", "mainsail_gybe_minutes", KEY_NUMBER,
     AT(handling.mainsail_gybe_s), 0, 120, MINUTES, "min", "8", NULL,
     "to gybe the mainsail, the spar stowed"},
    {"handling", "tack_minutes", KEY_NUMBER, AT(handling.tack_s), 0, 120,
     MINUTES, "min", "5", NULL, "to tack"},
    {"handling", "preventer", KEY_CHOICE,
     offsetof(struct boat_reading, preventer), 0, 0, 0, "", "both", preventers,
     "a line on both sides, or a single one that someone must bring forward at "
     "each gybe"},

    {"motor", "speed_kn", KEY_FIGURE, AT(motor.speed_mps), 0.5, 30, KN, "kn",
     "", NULL, "under engine; all of this section or none of it"},
    {"motor", "below_kn", KEY_FIGURE, AT(motor.below_mps), 0, 30, KN, "kn", "",
     NULL, "the engine runs where she would sail slower than this"},
    {"motor", "litres_per_hour", KEY_FIGURE, AT(motor.litres_per_hour), 0.1,
     200, 0, "l/h", "", NULL, "at that speed"},
    {"motor", "fuel_litres", KEY_FIGURE, AT(motor.fuel_litres), 0, 20000, 0,
     "l", "", NULL, "on board at departure"},
    {"motor", "reserve_litres", KEY_FIGURE, AT(motor.reserve_litres), 0, 20000,
     0, "l", "", NULL,
     "not to be planned with; a fifth of the fuel where left out"},

    {"motor", "max_wind_kn", KEY_NUMBER, AT(motor.max_wind_mps), 0, 100, KN,
     "kn", "12", NULL, "true wind; in more she sails, however slowly"},
    {"motor", "charge_hours", KEY_NUMBER, AT(motor.charge_s_per_day), 0, 24,
     SECONDS_PER_HOUR, "h", "0", NULL,
     "a day that the engine runs to charge, beside the motoring"},

    {"comfort", "easy_roll_deg", KEY_NUMBER, AT(comfort.easy_roll_deg), 0, 44,
     0, "deg", "2.5", NULL, "RMS roll up to which there is no discomfort"},
    {"comfort", "working_roll_deg", KEY_NUMBER, AT(comfort.working_roll_deg),
     0.1, 45, 0, "deg", "6", NULL,
     "RMS roll at which discomfort counts as much as the time itself"},
};

static const struct key headsail[] = {
    {HEADSAIL_SECTION, "foot_m", KEY_NUMBER, offsetof(struct headsail, foot_m),
     0.5, 30, 0, "m", NULL, NULL, "length of the foot"},
    {HEADSAIL_SECTION, "area_m2", KEY_FIGURE,
     offsetof(struct headsail, area_m2), 0.5, 1000, 0, "m2", "", NULL,
     "sail area"},
    {HEADSAIL_SECTION, "max_wind_kn", KEY_FIGURE,
     offsetof(struct headsail, max_wind_mps), 1, 100, KN, "kn", "", NULL,
     "most true wind for this sail"},
};

static const struct key reef[] = {
    {REEF_SECTION, "above_kn", KEY_NUMBER, offsetof(struct reef, above_mps), 1,
     100, KN, "kn", NULL, NULL, "true wind at which the Nth reef goes in"},
};

#define COUNT(list) (sizeof(list) / sizeof *(list))

const struct key_table boat_keys = {keys, COUNT(keys)};
const struct key_table headsail_keys = {headsail, COUNT(headsail)};
const struct key_table reef_keys = {reef, COUNT(reef)};
