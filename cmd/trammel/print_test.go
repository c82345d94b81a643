package main

import (
	"bytes"
	"io"
	"testing"

	"example.org/trammel/geom"
	reports "example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// foulText would drive a terminal: a title, a cursor movement, a C1 control, a turned writing direction; of the last
// two one stands beyond the first plane.
const foulText = "a\x1b]0;t\a\x1b[2Jb\u009b5m\u202ec\r\nd\x7fe\x00\U000e0001"

// foulRecords are a whole session in whose names and notes a foul text stands.
func foulRecords(t *testing.T) (all []session.Record) {
	t.Helper()
	for _, r := range testdata.Records(t, "v1-every-kind.jsonl") {
		switch e := r.Event.(type) {
		case session.Opened:
			e.Program, e.By, e.Machine.Name = foulText, foulText, foulText
			e.Files = []session.File{{Name: foulText, SHA256: foulText}}
			r.Event = e
		case session.Told:
			e.Wind.Slide = foulText
			r.Event = e
		case session.Noted:
			e.Text = foulText
			r.Event = e
		}
		all = append(all, r)
	}
	return all
}

// Whatever a journal holds in its names and notes, no way out of the program lets it drive a terminal or a viewer.
func TestNothingDrivesAnyWayOut(t *testing.T) {
	all := foulRecords(t)
	r := reports.New(foulText, all, func(u geom.Unit) geom.Unit { return u })
	h := reports.HistoryOf("", []reports.Journal{{Name: foulText, Events: all}}, geom.Millimetre)
	said := func(c *common) func(io.Writer) error {
		return func(out io.Writer) error { return sayRecords(world{out: out, err: io.Discard}, c, all) }
	}
	text := func(s string) func(io.Writer) error {
		return func(out io.Writer) error { return writeText(world{out: out}, "", s) }
	}
	for name, write := range map[string]func(io.Writer) error{
		"replay": said(&common{}), "replay --json": said(&common{json: true}), "report": text(r.Text()), "report --html": r.HTML,
		"report --csv": r.CSV,
		"history":      text(h.Text()), "history --html": h.HTML,
	} {
		var out bytes.Buffer
		if err := write(&printing{to: &out}); err != nil {
			t.Fatal(err)
		}
		if what, bad := harmful(out.String()); bad {
			t.Errorf("%s: %s", name, what)
		}
		if !bytes.Contains(out.Bytes(), []byte("5m")) {
			t.Errorf("%s does not hold the foul text at all", name)
		}
	}
}
