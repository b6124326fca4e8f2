#!/bin/bash
# one-node.sh SESSIONS: the job array for real, on this machine alone: starts munge and Slurm (Debian: slurm-wlm, munge) on the
# loopback, runs the array and the join, holds the archive against one built at once, and stops what it started. As root.
set -euo pipefail
export SESSIONS CLUSTER ARCHIVE OPTIONS="${OPTIONS:---no-pdf}"
SESSIONS=$(realpath "$1")
CLUSTER=$(realpath "$(dirname "$0")")
export STANDSTILL="${STANDSTILL:-node $(realpath "$CLUSTER/../../.build/bin/standstill.js")}"
work=$(mktemp -d)
ARCHIVE=$work/archive
host=$(hostname -s)
mkdir -p "$work"/{state,spool,munge}
chmod 755 "$work"
chmod 711 "$work/munge"

dd if=/dev/urandom of="$work/key" bs=1024 count=1 status=none
chmod 400 "$work/key"
munged --key-file="$work/key" --socket="$work/munge/socket" --pid-file="$work/munge/pid" --log-file="$work/munge/log" \
  --seed-file="$work/munge/seed" --force

cat > "$work/slurm.conf" <<CONF
ClusterName=one
SlurmctldHost=$host(127.0.0.1)
SlurmctldPort=16817
SlurmdPort=16818
SlurmUser=root
AuthType=auth/munge
AuthInfo=socket=$work/munge/socket
CredType=cred/munge
ProctrackType=proctrack/pgid
TaskPlugin=task/none
MpiDefault=none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmctldLogFile=$work/slurmctld.log
SlurmdLogFile=$work/slurmd.log
ReturnToService=2
NodeName=$host NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF
export SLURM_CONF=$work/slurm.conf

stop() {
  for pid in slurmd.pid slurmctld.pid munge/pid; do
    [ ! -s "$work/$pid" ] || kill "$(cat "$work/$pid")" 2> /dev/null || true
  done
}
trap stop EXIT
slurmctld -f "$SLURM_CONF"
slurmd -f "$SLURM_CONF" -N "$host"
for _ in $(seq 60); do sinfo -h -o %T 2> /dev/null | grep -q idle && break; sleep 1; done
sinfo

began=$(date +%s)
sbatch --wait --export=ALL --output="$work/task-%a.log" "$CLUSTER/array.slurm"
cat "$work"/task-*.log
bash "$CLUSTER/join.sh"
echo "array and join: $(($(date +%s) - began)) s"

# shellcheck disable=SC2086
$STANDSTILL build "$SESSIONS"/*/ --out "$work/at-once" --quiet $OPTIONS
diff -r "$ARCHIVE" "$work/at-once" && echo "SAME: four shards under Slurm and one build at once"
echo "kept in $work"
