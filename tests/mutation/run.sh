#!/usr/bin/env bash
# Mutation testing of one part in a slim copy outside the repository; docs/mutation.md says what is in it and why.
#   tests/mutation/run.sh PART FOLDER            all mutants
#   tests/mutation/run.sh PART FOLDER COUNT SEED a random sample of them
#   tests/mutation/run.sh PART FOLDER copy       only the copy, for dotnet-stryker by hand
# PART is Integration or Model. A run that was cut off goes on where it stopped: call Runner run again as at the end of this file.
set -euo pipefail
part=$1
mkdir -p "$2"
copy=$(cd "$2" && pwd)
shift 2
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)
tests=$copy/tests/DropSim.Tests
out=()
longest=()
case $part in
    Integration)
        needs='Integration' few=TableauTests
        # Counts bytes, and the code that chooses a mutant takes some.
        out=(allocates_nothing)
        ;;
    Model)
        needs='Integration Model Studies' few=RopeCurveTests
        # Takes a second or more and runs all laws, so that every mutant would wait for it; and what needs pages that are not in the copy.
        out=(RandomDrops Ten_times_stiffer_wood On_a_rigid_spar_a_heavier_piece A_drop_gives_the_same_bits_again
            A_ring_without_friction_and_a_block_without_loss_are_the_same_drop Events_phases_and_strikes A_top_without_branches_is_a_log
            Random_drops_scale_too V-301 V-1502 A_page_of_equations The_page_is_what_the_cases_give)
        # A mutant that survives waits for every test that reaches it: those of more processor seconds than this are not run.
        longest=(0.2)
        ;;
    *) echo "PART is Integration or Model, not $part" >&2; exit 2 ;;
esac

rm -rf "$copy"/{src,tests,.config,stryker,mutated} "$copy"/results.*
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
    # The answers in closed form are tests of the model too, and those of the rule by which a stem is cut up.
    cp -r "$root/tests/DropSim.Validation/ClosedForm" "$root/tests/DropSim.Tests/Dismantle/StemCutsTests.cs" "$tests/"
fi

sed "/<ProjectReference/{/DropSim\.\(${needs// /\\|}\)\.csproj/!d}" "$root/tests/DropSim.Tests/DropSim.Tests.csproj" > "$tests/DropSim.Tests.csproj"
# Style and lock files are the solution's business; here they cost time only.
sed -i -e 's|<AnalysisLevel>.*|<RunAnalyzers>false</RunAnalyzers>|' \
    -e '/EnforceCodeStyleInBuild\|TreatWarningsAsErrors\|RestorePackagesWithLockFile\|RestoreLockedMode/d' "$copy/src/Directory.Build.props"
cd "$tests"
dotnet tool restore > /dev/null
[ "${1:-}" = copy ] && exit

sed -i 's/"perTest"/"off"/' stryker-config.json

# Stryker makes the mutants, compiles them into one assembly, and names them in its report; a line without any is asked for, so that it
# runs none. It puts the assembly beside the tests for as long as it works, and there it is taken from.
mkdir "$copy/stryker"
dll=DropSim.$part.dll
(while [ ! -e "$copy/stryker/done" ]; do
    grep -qs MutantControl "bin/Release/net10.0/$dll" && cp "bin/Release/net10.0/$dll" "$copy/stryker/$dll"
    sleep 0.2
done) &
dotnet stryker --skip-version-check --project "DropSim.$part.csproj" --test-case-filter "FullyQualifiedName~$few" \
    -m '**/nothing.cs' --reporter json --output "$copy/stryker" > "$copy/stryker/log"
touch "$copy/stryker/done"
wait

mkdir -p "$copy/tests/Runner"
cp "$here"/Runner.* "$copy/tests/Runner/"
dotnet build "$copy/tests/Runner" -c Release -v q
cp -r bin/Release/net10.0 "$copy/mutated"
cp "$copy/stryker/$dll" "$copy/mutated/"
runner=$copy/tests/Runner/bin/Release/net10.0/Runner
common=("$copy/mutated" "$dll" "$copy/stryker/reports/mutation-report.json" "$copy/results")
"$runner" prepare "${common[@]}"
"$runner" coverage "${common[@]}" "${out[@]}"
"$runner" list "${common[@]}" "$@"
"$runner" run "${common[@]}" "${longest[@]}" "${out[@]}"
"$runner" score "${common[@]}"
