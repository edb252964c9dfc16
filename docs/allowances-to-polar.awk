# A table of time allowances (seconds for a nautical mile, as rating certificates
# have them) to a table of speeds in knots. Same layout: the first row true wind
# speeds in knots, the first column true wind angles, semicolons between.
#
#     awk -f allowances-to-polar.awk allowances.csv > ours-stowed.csv
BEGIN { FS = OFS = ";" }
/^#/ || /^[ \t\r]*$/ { next }
{ sub(/\r$/, "") }
!started { started = 1; print "# from time allowances: 3600 s / allowance"; print; next }
{
    for (i = 2; i <= NF; i++) {
        if ($i + 0 <= 0) {
            print FILENAME ":" FNR ": '" $i "' is no time in seconds" > "/dev/stderr"
            exit 1
        }
        $i = sprintf("%.2f", 3600 / $i)
    }
    print
}
