/* Installed, packed, unpacked and taken away again, as a user would: make
 * install, dist and deb. The program of a package that dpkg has unpacked into a
 * root of its own plans the demo; it finds its libraries on this machine. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/arena.h"
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *folder;

static int begin(void **state) {
    scratch_begin(state);
    folder = check_folder();
    return 0;
}

/* A shell line in which $F is the folder of this test. */
static struct ran run(const char *line) {
    return check_shell(
        arena_print(&arena, "F='%s'; export F; %s", folder, line));
}

static const char *well(const char *line) {
    struct ran ran = run(line);
    if (ran.status != 0)
        fail_msg("%s: status %d: %s%s", line, ran.status, ran.out, ran.err);
    return ran.out;
}

/* What make makes: the first line that it prints. The make that tests us must
 * not reach into the one that we test; the variant is that of the program under
 * test: build/VARIANT/sparwise. */
static const char *made(const char *words) {
    const char *program = getenv("SPARWISE");
    assert_non_null(program);
    const char *printed =
        well(arena_print(&arena,
                         "env -u MAKEFLAGS -u MFLAGS -u MAKELEVEL "
                         "-u DEBEMAIL -u DEBFULLNAME make -s %s "
                         "VARIANT=$(basename $(dirname '%s'))",
                         words, program));
    return arena_print(&arena, "%.*s", (int)strcspn(printed, "\n"), printed);
}

static void install_puts_all_in_its_place(void **state) {
    (void)state;
    static const char *const files[] = {
        "bin/sparwise",
        "share/man/man1/sparwise.1",
        "share/man/man5/sparwise-boat.5",
        "share/man/man5/sparwise-passage.5",
        "share/bash-completion/completions/sparwise",
        "share/doc/sparwise/README.md",
        "share/doc/sparwise/LICENSE",
        "share/doc/sparwise/docs/files.md",
        "share/sparwise/polars/wanderer-12.ini",
        "share/sparwise/grib-samples/trade-crossing.grib2",
    };
    made("install DESTDIR=$F/there PREFIX=/opt/sails");
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        well(arena_print(&arena, "test -r $F/there/opt/sails/%s", files[i]));
    well("test -x $F/there/opt/sails/bin/sparwise");
    assert_string_equal(well("find $F/there -type f -not -perm 755 -name "
                             "sparwise -path '*/bin/*'"),
                        "");
    assert_string_equal(well("find $F/there -type f -perm /022"), "");
}

/* Links of the documents from one to another still hold. */
static void installed_documents_find_one_another(void **state) {
    (void)state;
    made("install DESTDIR=$F/linked PREFIX=/usr");
    const char *links =
        well("cd $F/linked/usr/share/doc/sparwise && "
             "for page in $(find . -name '*.md'); do "
             "grep -o '](\\.\\{0,2\\}[A-Za-z/.-]*\\.[a-z0-9]*[)#]' $page | "
             "sed 's/^](//;s/[)#]$//' | while read -r link; do "
             "test -e $(dirname $page)/$link || echo \"$page: $link\"; done; "
             "done");
    assert_string_equal(links, "");
}

static void uninstall_leaves_nothing(void **state) {
    (void)state;
    well("mkdir -p $F/back/usr/bin && touch $F/back/usr/bin/other");
    made("install DESTDIR=$F/back PREFIX=/usr");
    made("uninstall DESTDIR=$F/back PREFIX=/usr");
    assert_string_equal(well("cd $F/back && find . -not -type d"),
                        "./usr/bin/other\n");
    assert_string_equal(well("cd $F/back && find . -name '*sparwise*'"), "");
}

/* --- dist ----------------------------------------------------------------- */

static void dist_has_every_committed_file_and_the_same_bytes(void **state) {
    (void)state;
    if (run("git rev-parse HEAD").status != 0) {
        print_message("skipped: no git that would tell what is committed\n");
        skip();
    }
    const char *first = well(arena_print(&arena, "cksum <%s", made("dist")));
    well("sleep 1"); /* a clock that crept in would show */
    const char *file = made("dist");
    assert_string_equal(well(arena_print(&arena, "cksum <%s", file)), first);
    assert_string_equal(
        well(arena_print(&arena,
                         "cp %s $F/dist.tar.gz && tar tzf "
                         "$F/dist.tar.gz | grep -v '/$' | "
                         "sed 's,^[^/]*/,,' | LC_ALL=C sort",
                         file)),
        well("git ls-tree -r --name-only HEAD | LC_ALL=C sort"));
    assert_string_equal(well("tar tvzf $F/dist.tar.gz | "
                             "awk '{ print $2 }' | sort -u"),
                        "root/root\n");
}

/* --- deb ------------------------------------------------------------------ */

static bool lacks(const char *program) {
    if (run(arena_print(&arena, "command -v %s", program)).status == 0)
        return false;
    print_message("skipped: no program %s\n", program);
    return true;
}

/* Makes the package once: $F/sparwise.deb. */
static bool lacks_package(void) {
    if (lacks("dpkg-shlibdeps") || lacks("dpkg-deb"))
        return true;
    if (run("test -e $F/sparwise.deb").status == 0)
        return false;
    const char *name = made("deb");
    well(arena_print(&arena, "cp %s $F/sparwise.deb", name));
    return false;
}

static void the_same_package_comes_out_twice(void **state) {
    (void)state;
    if (lacks_package())
        skip();
    const char *name = made("deb");
    assert_string_equal(well(arena_print(&arena, "cksum <%s", name)),
                        well("cksum <$F/sparwise.deb"));
}

/* Every library that the program asks for by itself comes with a package that
 * is asked for. */
static void its_dependencies_are_those_of_the_program(void **state) {
    (void)state;
    static const char *const packages[] = {
        "libc6 ",  "libeccodes0 ", "libproj",  "libinih1 ",
        "libxml2", "libjansson4 ", "libnetcdf"};
    if (lacks_package())
        skip();
    const char *depends = well("dpkg-deb -f $F/sparwise.deb Depends");
    for (size_t i = 0; i < sizeof packages / sizeof *packages; i++)
        assert_contains(depends, packages[i]);
    assert_contains(well("dpkg-deb -f $F/sparwise.deb Recommends"),
                    "gmt-gshhg-high");
}

/* Debian Policy 12.5 and 12.7: the licences, and a changelog that dpkg reads
 * and whose newest entry is this version; 5.6.2: a maintainer with an address
 * that is none of this machine, or whoever packs. */
static void it_has_changelog_licences_and_maintainer(void **state) {
    (void)state;
    if (lacks_package() || lacks("dpkg-parsechangelog"))
        skip();
    well("dpkg-deb -x $F/sparwise.deb $F/unpacked && zcat "
         "$F/unpacked/usr/share/doc/sparwise/changelog.gz >$F/changelog");
    assert_string_equal(well("dpkg-parsechangelog -l $F/changelog -S Version"),
                        well("dpkg-deb -f $F/sparwise.deb Version"));
    const char *maintainer = well("dpkg-deb -f $F/sparwise.deb Maintainer");
    assert_string_equal(
        well("dpkg-parsechangelog -l $F/changelog -S Maintainer"), maintainer);
    assert_null(strstr(maintainer, "localhost"));
    const char *licences = well("cat $F/unpacked/usr/share/doc/sparwise/"
                                "copyright");
    assert_contains(licences, "MIT License");
    assert_contains(licences, "Mike Bostock"); /* D3, in the program */
    const char *other = made("deb DEBFULLNAME=Someone DEBEMAIL=one@two.test");
    assert_string_equal(
        well(arena_print(&arena, "dpkg-deb -f %s Maintainer", other)),
        "Someone <one@two.test>\n");
}

/* On a machine that has no package at all, if apt knows what there is to be
 * had; else on this one. */
static void apt_resolves_it(void **state) {
    (void)state;
    if (lacks_package() || lacks("apt-get"))
        skip();
    bool has_lists =
        run("apt-cache dumpavail | grep -q '^Package: gcc$'").status == 0;
    if (!has_lists)
        print_message(
            "skipped: no lists of packages for apt; on this machine's "
            "own only\n");
    well("touch $F/none");
    assert_contains(
        well(arena_print(&arena,
                         "apt-get -s -q %s install --no-install-recommends "
                         "$F/sparwise.deb",
                         has_lists ? "-o Dir::State::status=$F/none" : "")),
        "\nInst sparwise ");
}

/* As root, or as one who seems to be. */
static const char *dpkg(const char *words) {
    return well(arena_print(
        &arena, "%s dpkg --root=$F/root --force-depends --log=/dev/null %s",
        geteuid() == 0 ? "" : "fakeroot", words));
}

static void unpacked_into_a_clean_root_it_plans_the_demo(void **state) {
    (void)state;
    if (lacks_package() || (geteuid() != 0 && lacks("fakeroot")))
        skip();
    well("mkdir -p $F/root/var/lib/dpkg/info $F/root/var/lib/dpkg/updates && "
         "touch $F/root/var/lib/dpkg/status");
    dpkg("-i $F/sparwise.deb");
    assert_contains(dpkg("-s sparwise"), "Status: install ok installed");
    well("$F/root/usr/bin/sparwise plan --coast none --quiet --out $F/demo "
         "$F/root/usr/share/sparwise/grib-samples/trade-crossing.ini");
    assert_contains(well("cat $F/demo/schedule.txt"), "\nARRIVE ");
    well("test -s $F/demo/route.gpx && test -s $F/demo/plan.json");
    dpkg("-P sparwise");
    assert_string_equal(well("find $F/root/usr 2>/dev/null; true"), "");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(install_puts_all_in_its_place),
        TEST(installed_documents_find_one_another),
        TEST(uninstall_leaves_nothing),
        TEST(dist_has_every_committed_file_and_the_same_bytes),
        TEST(the_same_package_comes_out_twice),
        TEST(its_dependencies_are_those_of_the_program),
        TEST(it_has_changelog_licences_and_maintainer),
        TEST(apt_resolves_it),
        TEST(unpacked_into_a_clean_root_it_plans_the_demo),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
