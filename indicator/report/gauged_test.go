package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
)

// A reading that came by a cable says so in the text, on the page and in the rows, at stations, winds and the head's lock, and what is
// known of the needle's trembling stands once a setting.
func TestReportSaysWhatCameByCable(t *testing.T) {
	all := records(t, "v1-cable.jsonl")
	r := report.New("v1-cable.jsonl", all, same)
	entered := 0
	for _, e := range all {
		switch e := e.Event.(type) {
		case session.Took, session.Reopened:
			entered++
		case session.Wound:
			if e.Reading != nil {
				entered++
			}
		case session.Worked:
			if e.Step == session.LockHead {
				entered++
			}
		}
	}
	var rows bytes.Buffer
	if err := r.CSV(&rows); err != nil {
		t.Fatal(err)
	}
	const by = "mean of 10 samples of serial:/dev/ttyS1, spread 0.00"
	if got := strings.Count(rows.String(), by); got != entered {
		t.Errorf("%d rows say it, want %d:\n%s", got, entered, rows.String())
	}
	stand := 0
	for i := range r.Settings {
		s := &r.Settings[i]
		for k := range s.Sweeps {
			stand += s.Sweeps[k].State.Sweep.Readings()
			for _, w := range s.Sweeps[k].Winds {
				if w.Reading != nil {
					stand++
				}
			}
		}
	}
	for name, text := range map[string]string{"text": r.Text(), "page": words(parse(t, page(t, &r)))} {
		if got := strings.Count(text, by); got != stand+1 { // the head's lock is a step
			t.Errorf("%s: said %d times, want %d", name, got, stand+1)
		}
		for i, spread := range []string{"0.0047", "0.0042"} {
			want := fmt.Sprintf("%s mm while it stands still, by the samples of", spread)
			if strings.Count(text, want) != 1 {
				t.Errorf("%s: setting %d does not say %q", name, i+1, want)
			}
		}
	}
}
