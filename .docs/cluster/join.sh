#!/bin/bash
# join.sh: the reports of all shards into ARCHIVE, and its pages from them. The shards may be deleted afterwards.
set -euo pipefail
mkdir -p "$ARCHIVE/sessions"
for shard in "$ARCHIVE".shard-*; do
  [ ! -d "$shard/sessions" ] || cp -R "$shard/sessions/." "$ARCHIVE/sessions/"
done
exec ${STANDSTILL:-npx standstill} index "$ARCHIVE"
