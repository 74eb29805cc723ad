#!/usr/bin/env bash
# Mutation testing of one part in a slim copy outside the repository:
#   tests/mutation.sh PART FOLDER [options of dotnet-stryker]
# PART is Integration or Model. The copy holds that part, what it needs, and the tests that are made for it; docs/mutation.md says which and why.
set -euo pipefail
part=$1
mkdir -p "$2"
copy=$(cd "$2" && pwd)
shift 2
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
tests=$copy/tests/DropSim.Tests
case $part in
    Integration) needs='Integration' filter='' ;;
    Model)
        needs='Integration Model Studies'
        # Left out: what takes a second or more and runs all laws, so that every mutant would wait for it; and the pages, which are not in the copy.
        filter='FullyQualifiedName~DropSim'
        for slow in RandomDrops Ten_times_stiffer_wood On_a_rigid_spar_a_heavier_piece A_drop_gives_the_same_bits_again A_ring_without_friction_and_a_block_without_loss_are_the_same_drop \
            Events_phases_and_strikes A_top_without_branches_is_a_log Random_drops_scale_too A_page_of_equations The_page_is_what_the_cases_give; do
            filter+="&FullyQualifiedName!~$slow"
        done
        filter+='&DisplayName!~V-301&DisplayName!~V-1502'
        ;;
    *) echo "PART is Integration or Model, not $part" >&2; exit 2 ;;
esac

rm -rf "$copy/src" "$copy/tests" "$copy/.config"
mkdir -p "$copy/src" "$tests"
cp "$root"/src/Directory.*.props "$copy/src/"
cp "$root"/tests/Directory.*.props "$copy/tests/"
cp -r "$root/.config" "$copy/"
for name in $needs; do
    mkdir "$copy/src/DropSim.$name"
    (cd "$root/src/DropSim.$name" && git ls-files | tar -c -T - -f -) | tar -x -C "$copy/src/DropSim.$name" -f -
done
cp "$root/tests/DropSim.Tests/stryker-config.json" "$tests/"
cp -r "$root/tests/DropSim.Tests/$part" "$tests/"
if [ "$part" = Model ]; then
    # The answers in closed form are tests of the model too; the pages that they write are not here.
    cp -r "$root/tests/DropSim.Validation/ClosedForm" "$tests/"
fi

sed "/<ProjectReference/{/DropSim\.\(${needs// /\\|}\)\.csproj/!d}" "$root/tests/DropSim.Tests/DropSim.Tests.csproj" > "$tests/DropSim.Tests.csproj"
# Style and lock files are the solution's business; here they cost time only.
sed -i -e 's|<AnalysisLevel>.*|<RunAnalyzers>false</RunAnalyzers>|' \
    -e '/EnforceCodeStyleInBuild\|TreatWarningsAsErrors\|RestorePackagesWithLockFile\|RestoreLockedMode/d' "$copy/src/Directory.Build.props"

cd "$tests"
dotnet tool restore > /dev/null
[ "${1:-}" = copy ] && { echo "$filter"; exit; }
exec dotnet stryker --skip-version-check --project "DropSim.$part.csproj" ${filter:+--test-case-filter "$filter"} "$@"
