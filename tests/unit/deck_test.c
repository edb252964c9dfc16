#include "../support/check.h"

#include "../support/analytic.h"
#include "voyage/deck.h"
#include <string.h>

/* Deck states, wind on the port and on the starboard side. */
#define STOWED(wind)                                                           \
    { .spar = SPAR_STOWED, .wind_starboard = (wind) }
#define DRAWING(place, wind)                                                   \
    { .spar = (place), .wind_starboard = (wind) }
#define ROLLED(place, wind)                                                    \
    { .spar = (place), .rolled = true, .wind_starboard = (wind) }
enum { WIND_PORT, WIND_STARBOARD };

/* There is no second part. */
#define NONE CHANGE_KINDS

/* A boat with minutes that can't be taken for one another. */
static struct boat *boat_of_primes(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->spar.set_s = 1009.0;
    boat->spar.gybe_s = 2003.0;
    boat->spar.stow_s = 503.0;
    boat->spar.roll_s = 101.0;
    boat->handling.mainsail_gybe_s = 211.0;
    boat->handling.tack_s = 307.0;
    boat->handling.single_preventer = false;
    return boat;
}

static void ten_states_have_ten_numbers_and_come_back_from_them(void **state) {
    (void)state;
    bool seen[2][2][3] = {{{false}}};
    for (int i = 0; i < DECK_STATES; i++) {
        struct deck deck = deck_at(i);
        assert_int_equal(deck_index(deck), i);
        assert_false(deck.spar == SPAR_STOWED && deck.rolled);
        bool *cell = &seen[deck.wind_starboard][deck.rolled][deck.spar];
        assert_false(*cell);
        *cell = true;
    }
}

static void the_mode_follows_from_the_side_of_spar_and_wind(void **state) {
    (void)state;
    static const struct {
        struct deck deck;
        enum sail_mode mode;
        bool drawing;
    } rows[] = {
        {STOWED(WIND_PORT), MODE_STOWED, false},
        {STOWED(WIND_STARBOARD), MODE_STOWED, false},
        /* wing-and-wing: the spar to windward */
        {DRAWING(SPAR_PORT, WIND_PORT), MODE_WING, true},
        {DRAWING(SPAR_STARBOARD, WIND_STARBOARD), MODE_WING, true},
        /* poled reach: the spar to leeward */
        {DRAWING(SPAR_PORT, WIND_STARBOARD), MODE_POLED_REACH, true},
        {DRAWING(SPAR_STARBOARD, WIND_PORT), MODE_POLED_REACH, true},
        {ROLLED(SPAR_PORT, WIND_PORT), MODE_ROLLED, false},
        {ROLLED(SPAR_STARBOARD, WIND_PORT), MODE_ROLLED, false},
        {ROLLED(SPAR_PORT, WIND_STARBOARD), MODE_ROLLED, false},
        {ROLLED(SPAR_STARBOARD, WIND_STARBOARD), MODE_ROLLED, false},
    };
    assert_int_equal(sizeof rows / sizeof *rows, DECK_STATES);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(deck_mode(rows[i].deck), rows[i].mode);
        assert_int_equal(deck_is_drawing(rows[i].deck), rows[i].drawing);
    }
}

/* One row per shape of change; the parts as they are done. */
static const struct change_row {
    struct deck from, to;
    bool tacks;
    enum change_kind kind[2];
    double seconds; /* all parts together */
    bool deck_work;
} changes[] = {
    /* the spar alone */
    {STOWED(0), DRAWING(SPAR_PORT, 0), false, {CHANGE_SET, NONE}, 1009, true},
    {STOWED(0), ROLLED(SPAR_PORT, 0), false, {CHANGE_SET, NONE}, 1009, true},
    {DRAWING(SPAR_PORT, 0), STOWED(0), false, {CHANGE_STOW, NONE}, 503, true},
    {ROLLED(SPAR_PORT, 0), STOWED(0), false, {CHANGE_STOW, NONE}, 503, true},
    {DRAWING(SPAR_PORT, 1),
     DRAWING(SPAR_STARBOARD, 1), /* poled reach to wing: the boom stays */
     false,
     {CHANGE_ACROSS, NONE},
     2003,
     true},
    {ROLLED(SPAR_STARBOARD, 1),
     DRAWING(SPAR_PORT, 1),
     false,
     {CHANGE_ACROSS, NONE},
     2003,
     true},
    /* the headsail alone */
    {DRAWING(SPAR_PORT, 0),
     ROLLED(SPAR_PORT, 0),
     false,
     {CHANGE_ROLL, NONE},
     101,
     false},
    {ROLLED(SPAR_STARBOARD, 0),
     DRAWING(SPAR_STARBOARD, 0),
     false,
     {CHANGE_UNROLL, NONE},
     101,
     false},
    /* the mainsail alone */
    {STOWED(0), STOWED(1), false, {CHANGE_MAINSAIL_GYBE, NONE}, 211, false},
    {STOWED(1), STOWED(0), true, {CHANGE_TACK, NONE}, 307, false},
    {ROLLED(SPAR_PORT, 1),
     ROLLED(SPAR_PORT, 0),
     true,
     {CHANGE_TACK, NONE},
     307,
     false},
    {DRAWING(SPAR_PORT, 0), /* wing-and-wing becomes a poled reach */
     DRAWING(SPAR_PORT, 1),
     false,
     {CHANGE_MAINSAIL_GYBE, NONE},
     211,
     false},
    /* a gybe of the spar covers the mainsail and the preventer */
    {DRAWING(SPAR_PORT, 0),
     DRAWING(SPAR_STARBOARD, 1),
     false,
     {CHANGE_GYBE, NONE},
     2003,
     true},
    {ROLLED(SPAR_PORT, 0),
     ROLLED(SPAR_STARBOARD, 1),
     false,
     {CHANGE_GYBE, NONE},
     2003,
     true},
    /* all others add up, the mainsail first, but a headsail rolled before */
    {STOWED(0),
     DRAWING(SPAR_PORT, 1),
     false,
     {CHANGE_MAINSAIL_GYBE, CHANGE_SET},
     1009 + 211,
     true},
    {DRAWING(SPAR_STARBOARD, 1),
     STOWED(0),
     false,
     {CHANGE_MAINSAIL_GYBE, CHANGE_STOW},
     503 + 211,
     true},
    {DRAWING(SPAR_PORT, 0),
     ROLLED(SPAR_PORT, 1),
     false,
     {CHANGE_ROLL, CHANGE_MAINSAIL_GYBE},
     101 + 211,
     false},
    {ROLLED(SPAR_PORT, 0),
     DRAWING(SPAR_PORT, 1),
     false,
     {CHANGE_MAINSAIL_GYBE, CHANGE_UNROLL},
     101 + 211,
     false},
    {ROLLED(SPAR_PORT, 0),
     STOWED(1),
     true,
     {CHANGE_TACK, CHANGE_STOW},
     503 + 307,
     true},
    {STOWED(1),
     ROLLED(SPAR_STARBOARD, 0),
     true,
     {CHANGE_TACK, CHANGE_SET},
     1009 + 307,
     true},
    {ROLLED(SPAR_PORT, 0), /* a tack is not the mainsail's gybe */
     ROLLED(SPAR_STARBOARD, 1),
     true,
     {CHANGE_TACK, CHANGE_ACROSS},
     2003 + 307,
     true},
};

static void check_change(const struct boat *boat,
                         const struct change_row *row) {
    struct deck_change change =
        deck_change_between(boat, row->from, row->to, row->tacks);
    int count = row->kind[1] == NONE ? 1 : 2;
    double seconds = 0.0;
    assert_int_equal(change.count, count);
    for (int i = 0; i < count; i++) {
        assert_int_equal(change.kind[i], row->kind[i]);
        seconds += change.seconds[i];
    }
    assert_near(seconds, row->seconds, 1e-9);
    assert_int_equal(change.deck_work, row->deck_work);
}

static void each_change_has_its_parts_its_minutes_and_its_hands(void **state) {
    (void)state;
    const struct boat *boat = boat_of_primes();
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++)
        check_change(boat, &changes[i]);
}

static struct deck other_side(struct deck deck) {
    deck.wind_starboard = !deck.wind_starboard;
    if (deck.spar != SPAR_STOWED)
        deck.spar = deck.spar == SPAR_PORT ? SPAR_STARBOARD : SPAR_PORT;
    return deck;
}

static void a_change_is_the_same_in_the_mirror(void **state) {
    (void)state;
    const struct boat *boat = boat_of_primes();
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++) {
        struct change_row row = changes[i];
        row.from = other_side(row.from);
        row.to = other_side(row.to);
        check_change(boat, &row);
    }
}

static void nothing_to_do_takes_nothing(void **state) {
    (void)state;
    const struct boat *boat = boat_of_primes();
    for (int i = 0; i < 2 * DECK_STATES; i++) {
        struct deck deck = deck_at(i / 2);
        struct deck_change change =
            deck_change_between(boat, deck, deck, i % 2 == 1);
        assert_int_equal(change.count, 0);
        assert_false(change.deck_work);
    }
}

static void nobody_tacks_with_the_spar_drawing(void **state) {
    (void)state;
    const struct boat *boat = boat_of_primes();
    int refused = 0;
    for (int i = 0; i < DECK_STATES * DECK_STATES; i++) {
        struct deck from = deck_at(i / DECK_STATES);
        struct deck to = deck_at(i % DECK_STATES);
        bool turns = from.wind_starboard != to.wind_starboard;
        bool drawing = deck_is_drawing(from) || deck_is_drawing(to);
        struct deck_change change = deck_change_between(boat, from, to, true);
        assert_int_equal(change.count == -1, turns && drawing);
        assert_true(deck_change_between(boat, from, to, false).count >= 0);
        refused += change.count == -1;
    }
    assert_int_equal(refused, 32); /* of 50 that change the side */
}

static void a_single_preventer_makes_the_mainsail_gybe_deck_work(void **state) {
    (void)state;
    struct boat *boat = boat_of_primes();
    struct deck port = STOWED(WIND_PORT), starboard = STOWED(WIND_STARBOARD);
    struct deck wing = DRAWING(SPAR_PORT, 0), rolled = ROLLED(SPAR_PORT, 1);
    boat->handling.single_preventer = true;
    assert_true(deck_change_between(boat, port, starboard, false).deck_work);
    assert_true(deck_change_between(boat, wing, rolled, false).deck_work);
    assert_false(deck_change_between(boat, port, starboard, true).deck_work);
    boat->handling.single_preventer = false;
    assert_false(deck_change_between(boat, port, starboard, false).deck_work);
    assert_false(deck_change_between(boat, wing, rolled, false).deck_work);
}

static void set_gybe_and_stow_send_someone_forward_and_no_other(void **state) {
    (void)state;
    static const bool forward[CHANGE_KINDS] = {[CHANGE_SET] = true,
                                               [CHANGE_GYBE] = true,
                                               [CHANGE_ACROSS] = true,
                                               [CHANGE_STOW] = true};
    struct boat *boat = boat_of_primes();
    for (int kind = 0; kind < CHANGE_KINDS; kind++)
        assert_int_equal(change_is_deck_work(boat, (enum change_kind)kind),
                         forward[kind]);
    boat->handling.single_preventer = true;
    assert_true(change_is_deck_work(boat, CHANGE_MAINSAIL_GYBE));
    assert_false(change_is_deck_work(boat, CHANGE_TACK));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ten_states_have_ten_numbers_and_come_back_from_them),
        cmocka_unit_test(the_mode_follows_from_the_side_of_spar_and_wind),
        cmocka_unit_test(each_change_has_its_parts_its_minutes_and_its_hands),
        cmocka_unit_test(a_change_is_the_same_in_the_mirror),
        cmocka_unit_test(nothing_to_do_takes_nothing),
        cmocka_unit_test(nobody_tacks_with_the_spar_drawing),
        cmocka_unit_test(a_single_preventer_makes_the_mainsail_gybe_deck_work),
        cmocka_unit_test(set_gybe_and_stow_send_someone_forward_and_no_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
