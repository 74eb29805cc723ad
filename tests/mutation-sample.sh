#!/usr/bin/env bash
# A random sample of source lines as options for dotnet-stryker: tests/mutation-sample.sh PART LINES SEED [FILE...]
# Lines of code of src/DropSim.PART (or of the files named, without .cs) are put into an order that the seed fixes (sort -R: an MD5 of each
# line's name, salted by the seed), and the first LINES of them are taken, as spans of characters. Mutants that lie within one line are the population.
set -euo pipefail
export LC_ALL=C
part=$1 lines=$2 seed=$3
shift 3
cd "$(dirname "${BASH_SOURCE[0]}")/../src/DropSim.$part"
files=("${@/%/.cs}")
[ $# -gt 0 ] || files=(*.cs)
salt=$(mktemp)
trap 'rm -f "$salt"' EXIT
printf '%032d' "$seed" > "$salt"

# File, line number, first and last character; blank lines, comments and lone brackets hold no mutants.
awk '
    FNR == 1 { at = 0 }
    { if ($0 !~ /^[ \t]*(\/\/.*|[][(){};,]*)$/) print FILENAME, FNR, at, at + length($0); at += length($0) + 1 }' "${files[@]}" |
    sort -R --random-source="$salt" | head -n "$lines" | sort -k1,1 -k2,2n |
    awk '
        $1 != file { if (file) print ""; file = $1; printf "-m **/%s", file }
        { printf "{%d..%d}", $3, $4 }
        END { print "" }'
