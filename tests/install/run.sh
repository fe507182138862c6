#!/bin/bash
# Installs the build into a fresh folder, looks for everything that belongs there, builds a neighbour against it and runs both programs
# with nothing but that folder. run.sh BUILD SOURCE CXX_FLAGS
set -euo pipefail
build=$1 source=$2 flags=${3:-}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cmake --install "$build" --prefix "$folder/usr" >/dev/null
for file in bin/fitup include/fitup/plan/plan.hpp share/fitup/schemas/adapter_plate.json share/man/man1/fitup.1 \
            share/bash-completion/completions/fitup share/zsh/site-functions/_fitup share/fish/vendor_completions.d/fitup.fish; do
    [ -s "$folder/usr/$file" ] || { echo "not installed: $file"; exit 1; }
done
cmake -S "$source/tests/install" -B "$folder/build" -G Ninja -DCMAKE_PREFIX_PATH="$folder/usr" -DCMAKE_CXX_FLAGS="$flags" >/dev/null
ninja -C "$folder/build" >/dev/null
"$folder/build/neighbour" "$folder/made"
[ -s "$folder/made/neighbour.step" ] && [ -s "$folder/made/neighbour.stl" ]
"$folder/usr/bin/fitup" make "$source/examples/winch-adapter.json" --to "$folder/demo" --quiet
[ -s "$folder/demo/winch-adapter.step" ]
