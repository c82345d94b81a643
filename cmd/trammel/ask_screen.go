package main

import (
	"github.com/spf13/cobra"

	"example.org/trammel/indicator/job"
	"example.org/trammel/tui"
)

// askFlags say how questions are asked.
type askFlags struct {
	lines bool
	title string // of the pages; empty for what is usual
	manner
}

func (f *askFlags) add(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&f.lines, "lines", false, "plain lines in and out")
	f.manner.add(cmd)
}

// askAll asks page by page on a terminal, else in lines; what is answered is kept after each answer, and what there is to tell
// is told. done is false where the person leaves before the last one.
func askAll(w world, c *common, f *askFlags, title string, q job.Asking, k *keeper, tell news) (all job.Asking, done bool,
	err error) {
	if f.lines || c.json || !w.terminal {
		return askInLines(w, c, q, k, tell)
	}
	err = onScreen(w, &f.manner, func(w world) error {
		t := w.screen
		all, done, err = tui.Ask(t.ctx, tui.AskConfig{Q: q, Title: title, Keep: k.keep, Told: tell.words, Now: w.now,
			Plain: f.plainly(w), In: t.in, Out: t.out, Shell: t.shell, Topics: helpTopics()})
		if err == nil && !done && t.ctx.Err() == nil {
			k.left(w, all)
		}
		return err
	})
	return all, done, err
}

// words are the news as a page shows them.
func (n news) words(q job.Asking) (out []string) {
	for _, l := range n(q) {
		out = append(out, l.Text())
	}
	return out
}

// completed asks for what is open, and dials.
func completed(w world, c *common, f *dialFlags) error {
	if leave, err := f.complete(w, c); err != nil || leave {
		return err
	}
	return dial(w, c, f)
}
