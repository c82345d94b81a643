package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

type replayFlags struct {
	to    value[uint64] // 0 where it is not given
	lines bool
	manner
}

func newReplay(w world, c *common) *cobra.Command {
	f := replayFlags{to: eventNumber()}
	cmd := &cobra.Command{
		Use:   "replay JOURNAL",
		Short: "see a session again, event by event",
		Long: `replay says what the session said when its journal was written: the lines that
events caused, the very bytes, in the unit of each setting's job. What caused no
event is not in a journal: refused, resumed and paused are left out.

--to N ends behind event N, and shows what stands before a damaged line. JOURNAL may
be - for standard input. The journal is never changed.

On a terminal (without --lines or --json) it opens the replay screen: the session's
own panes at any event, with --to at event N; ? lists its keys.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return misuse("replay takes one journal, seen %d", len(args))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return replayVerb(w, c, &f, args[0]) },
	}
	cmd.Flags().Var(&f.to, "to", "the last event that is shown (default: the journal's last)")
	cmd.Flags().BoolVar(&f.lines, "lines", false, "plain lines, on a terminal too")
	f.manner.add(cmd)
	return cmd
}

func replayVerb(w world, c *common, f *replayFlags, path string) error {
	r, err := readRecord(w, path)
	if err != nil {
		return err
	}
	if !f.lines && !c.json && w.terminal && path != "-" && len(r.events) > 0 {
		return onScreen(w, &f.manner, func(w world) error { return replayScreen(w, c, f, &r) })
	}
	events, err := r.upTo(int(f.to.v))
	if err != nil {
		return err
	}
	return sayRecords(w, c, events)
}

// replayScreen shows a journal's events; what is wrong behind them is told.
func replayScreen(w world, c *common, f *replayFlags, r *recorded) error {
	if err := c.screen(unitOf(r.events)); err != nil {
		return err
	}
	warn := ""
	if r.broken != nil {
		warn = fmt.Sprintf("%v; what stands before it is here", r.broken)
	}
	t := w.screen
	return tui.RunReplay(t.ctx, tui.ReplayConfig{Events: r.events, At: int(f.to.v), After: time.After, Now: w.now, Warn: warn,
		Plain: f.plainly(w), In: t.in, Out: t.out, Shell: t.shell, Topics: helpTopics()})
}

// sayRecords says what events caused, each setting in its job's unit.
func sayRecords(w world, c *common, events []session.Record) error {
	return sayFollowed(w, c, new(session.State), events)
}
