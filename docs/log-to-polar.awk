# A polar for the boat as she is: a first polar, corrected by her log.
#
#     awk -f log-to-polar.awk first.csv log.csv > ours.csv
#
# first.csv is any polar with semicolons or commas between its cells and decimal
# points: from a certificate, or a guess. log.csv has a line for each quiet quarter
# of an hour: TWA in degrees, TWS in knots, speed through the water in knots, with
# semicolons or commas between; # starts a remark.
#
# Each line gives a ratio: what she did to what the first polar says there. A cell
# is the first polar's, times the median ratio of the lines that are near it
# (10 degrees, 2 kn), drawn towards the median of all as if twenty lines told that.
function base(twa, tws,    i, k, u, v) {
    if (twa < angle[1] || twa > angle[rows] || tws < wind[2] || tws > wind[columns])
        return 0
    for (i = 1; i < rows - 1 && angle[i + 1] < twa; i++)
        ;
    for (k = 2; k < columns - 1 && wind[k + 1] < tws; k++)
        ;
    u = (twa - angle[i]) / (angle[i + 1] - angle[i])
    v = (tws - wind[k]) / (wind[k + 1] - wind[k])
    return (1 - u) * ((1 - v) * cell[i, k] + v * cell[i, k + 1]) + \
           u * ((1 - v) * cell[i + 1, k] + v * cell[i + 1, k + 1])
}
# Of list[1..n], which it sorts.
function median(n,    i, k, value) {
    for (i = 2; i <= n; i++) {
        value = list[i]
        for (k = i - 1; k > 0 && list[k] > value; k--)
            list[k + 1] = list[k]
        list[k + 1] = value
    }
    return n % 2 ? list[(n + 1) / 2] : (list[n / 2] + list[n / 2 + 1]) / 2
}
function near(a, b, most) { return a - b <= most && b - a <= most }
function fault(text) {
    print FILENAME ":" FNR ": " text > "/dev/stderr"
    failed = 1
    exit 1
}

BEGIN { FS = "[;,]"; count_as = 20; few = 6 }
/^#/ || /^[ \t\r]*$/ { next }
{ sub(/\r$/, "") }

FNR == NR && !columns {
    columns = NF
    head = $1
    for (k = 2; k <= NF; k++)
        wind[k] = $k + 0
    next
}
FNR == NR {
    if (NF != columns)
        fault(NF " cells where the first row has " columns)
    angle[++rows] = $1 + 0
    for (k = 2; k <= NF; k++)
        cell[rows, k] = $k + 0
    next
}
NF != 3 { fault("a line of the log is TWA;TWS;speed") }
{
    expected = base($1 < 0 ? -$1 : $1, $2)
    if (expected <= 0) {
        outside++
        next
    }
    at[++lines] = $1 < 0 ? -$1 : $1
    in_wind[lines] = $2
    ratio[lines] = $3 / expected
}
END {
    if (failed)
        exit 1
    if (!lines) {
        print "no line of the log lies within the first polar" > "/dev/stderr"
        exit 1
    }
    for (n = 1; n <= lines; n++)
        list[n] = ratio[n]
    all = median(lines)
    printf "# from a log of %d lines, %d more outside; in all %.2f of the first polar\n",
        lines, outside, all
    printf "%s", head
    for (k = 2; k <= columns; k++)
        printf ";%g", wind[k]
    printf "\n"
    for (i = 1; i <= rows; i++) {
        printf "%g", angle[i]
        for (k = 2; k <= columns; k++) {
            found = 0
            for (n = 1; n <= lines; n++)
                if (near(at[n], angle[i], 10) && near(in_wind[n], wind[k], 2))
                    list[++found] = ratio[n]
            told = found ? median(found) : all
            mixed = (found * told + count_as * all) / (found + count_as)
            printf ";%.2f", cell[i, k] * mixed
            cells += found >= few
        }
        printf "\n"
    }
    printf "# %d of %d cells have %d lines or more near them\n", cells,
        rows * (columns - 1), few
}
