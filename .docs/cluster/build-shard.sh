#!/bin/bash
# build-shard.sh SHARD OF: builds every OF-th session folder, from the SHARD-th on (counted from 0), into an archive of its own.
#   SESSIONS  folder of session folders
#   ARCHIVE   the archive that join.sh makes; this shard goes into ARCHIVE.shard-SHARD
#   HEALTHY   folder of the healthy sessions that others take limits from, if any: each shard builds them, to the same bytes
#   OPTIONS   more for build, such as --no-pdf
set -euo pipefail
shard=$1 of=$2 out="$ARCHIVE.shard-$1"
mapfile -d '' -t all < <(find "$SESSIONS" -mindepth 2 -maxdepth 2 -name session.yaml -printf '%h\0' | LC_ALL=C sort -z)
folders=()
for ((k = shard; k < ${#all[@]}; k += of)); do folders+=("${all[k]}"); done
[ -z "${HEALTHY:-}" ] || folders+=("$HEALTHY"/*)
[ ${#folders[@]} -gt 0 ] || exit 0
mkdir -p "$out"
# The shop's name, words and templates belong to the archive, and so to each part of it.
[ ! -e "$ARCHIVE/shop.yaml" ] || find "$ARCHIVE" -mindepth 1 -maxdepth 1 ! -name sessions ! -name vehicles ! -name comparisons ! -name tables -exec cp -R {} "$out" \;
# shellcheck disable=SC2086
exec ${STANDSTILL:-npx standstill} build "${folders[@]}" --out "$out" --quiet ${OPTIONS:-}
