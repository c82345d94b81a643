// Command trammel brings a swing radius and its centre in on a manual mill: indicator readings
// in, true radius, centre error and handwheel winds out.
//
// This package is the only place with a clock, the user's files, signals and exit codes.
//
// # Exit codes
//
// 0: done; 1: the data or the machine says no, or what was asked for was not had; 2: wrong use. Two opposite
// readings are answered by the verb fit, so they exit 0; two readings that are no pair exit 1, and so does an arc
// with figures that no arc has. Lines that a failed append has stopped exit 1 on purpose: the next number of a pipe
// would be taken for the lost station. Lines that only look on exit 1 as well, because what was asked for, a
// session, was not had. A screen that a signal has ended exits with 128 and the signal's number, as shells tell it.
//
// # An arc of a drawing
//
// Flags of a plan inside dial are in the job's unit, as all is that is typed there, and the set-up comes from the
// job: with a table the cutter stands at the indicator's bearing. For the blends, journals that are named must be
// whole and of this drawing, by its digest; those that were kept count up to the damage, and it is told.
// --learnt-from is one more source of the arcs that an opening carries, and no more.
//
// # Looking on
//
// A journal that another program writes is polled, once a second on a screen and twice in lines. Who writes is asked
// of the lock, for an instant, because a program that was killed leaves its name behind. A program that opens the
// journal in that very instant is refused by the lock, asks the same, hears that nobody writes and tries again:
// nothing sleeps.
//
// # Two architectures
//
// With an emulator for arm64 (qemu-user), which CI does without:
//
//	GOARCH=arm64 go test -exec qemu-aarch64 ./cmd/trammel -run 'TestReplayOfGoldenJournals|TestReplaySaysWhatWasSaid'
//	GOARCH=arm64 go build -o trammel-arm64 ./cmd/trammel
//	for f in testdata/journal/*.jsonl; do
//		cmp <(trammel replay --json $f) <(qemu-aarch64 ./trammel-arm64 replay --json $f)
//	done
//
// Seen: the replay as text and as JSON, and the report as text, of all golden journals and of a session with steps
// are the same bytes. JSON is rounded to 1e-12, so that is more than the digits that are shown and less than all
// bits.
package main
