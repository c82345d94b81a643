package report

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// row puts an event into the report.
type row func(m *maker, r session.Record, st session.Step)

// rows are the kinds of event that a report tells of. The others change what stands, and are seen in that.
var rows = byKind(
	on(undone), on(swept), on(told), on(wound), on(reopened), entry(took), entry(skipped), entry(noted), entry(ticked), entry(sized),
	entry(worked), entry(biased), entry(limitStated), entry(accepted), entry(parted), on(anew), entry(looked), entry(reread), entry(moved),
	entry(stayed),
)

// kind is a row with the kind of event that it is for.
type kind struct {
	name string
	row  row
}

func byKind(all ...kind) map[string]row {
	out := make(map[string]row, len(all))
	for _, k := range all {
		out[k.name] = k.row
	}
	return out
}

func on[E session.Event](do func(m *maker, r session.Record, e E, st session.Step)) kind {
	var e E
	return kind{session.Kind(e), func(m *maker, r session.Record, st session.Step) { do(m, r, r.Event.(E), st) }}
}

// entry is a kind that is kept for the spreadsheet's rows as fill says. A reading that replaces another takes its place.
func entry[E session.Event](fill func(m *maker, x *Entry, e E, st session.Step)) kind {
	return on(func(m *maker, r session.Record, e E, st session.Step) {
		x := Entry{Event: r.N, At: r.T, Part: st.After.Part, Trial: st.After.Trial, Value: indicator.Value{V: nan, U: nan}}
		fill(m, &x, e, st)
		m.keep(x)
	})
}

func (m *maker) keep(e Entry) {
	set := m.setting()
	set.Entries = append(set.Entries, e)
}

func undone(m *maker, _ session.Record, _ session.Undone, st session.Step) {
	if n := st.Before.TakesBack(); n > 0 {
		m.setting().back(n)
	}
}

// anew opens a setting again that had been accepted.
func anew(m *maker, _ session.Record, _ session.Restarted, st session.Step) {
	if set := m.setting(); st.Before.Accepted() {
		set.Accepted, set.stood = 0, session.State{}
	}
}

func reread(m *maker, x *Entry, e session.Reread, st session.Step) {
	x.Kind, x.Value.V = "read again", e.Reading
	if e.Skipped {
		x.Value.V = nan
	}
	if all := lines.Of(st, m.setting().Unit); len(all) > 0 {
		x.Text = all[0].Text()
	}
}

// looked is a reading between two winds.
func looked(m *maker, x *Entry, e session.Looked, st session.Step) {
	x.Kind, x.Value.V, x.Bearing = "look", e.Reading, &e.Bearing
	if e.Skipped {
		x.Value.V = nan
	}
	if all := lines.Of(st, m.setting().Unit); len(all) > 0 {
		x.Text = all[0].Text()
	}
}

func moved(m *maker, x *Entry, e session.Moved, st session.Step) {
	x.Kind, x.Text = "moved", strings.Join(lines.MovedWords(&st.After, &e, m.setting().Unit), "; ")
}

func stayed(_ *maker, x *Entry, _ session.Stayed, _ session.Step) {
	x.Kind, x.Text = "moved", "gone on with as it stands"
}

func swept(m *maker, r session.Record, _ session.Swept, st session.Step) {
	set := m.setting()
	set.Sweeps = append(set.Sweeps, closed(r.N, st.After, set.Unit))
	set.judgeAnew(&st.After)
}

// judgeAnew takes over what the sweep makes of its readings as it ended. What was said of them when they were entered stays.
func (s *Setting) judgeAnew(at *session.State) {
	for i := range at.Sweep.Stations[:at.Sweep.N] {
		for k := len(s.Entries) - 1; k >= 0; k-- {
			if e := &s.Entries[k]; e.gone == 0 && e.Bearing != nil && e.of(at) && e.Number == i+1 {
				e.Overtaken = at.Sweep.Stations[i].Overtaken
				break
			}
		}
	}
}

// closed is the sweep that stands in a state.
func closed(n int, s session.State, u geom.Unit) Sweep {
	w := Sweep{Event: n, Part: s.Part, Trial: s.Trial, Unit: u, State: s}
	if w.Found, w.Err = s.Fit(); w.Err == nil {
		w.Bearings, w.Readings, w.Station = s.Readings(&w.Found)
	}
	return w
}

// told puts a wind to the last sweep.
func told(m *maker, r session.Record, e session.Told, st session.Step) {
	set := m.setting()
	if len(set.Sweeps) == 0 {
		return
	}
	w := Wind{Told: r.N, What: e}
	for _, l := range lines.Of(st, set.Unit) {
		w.Text = l.Text()
	}
	last := &set.Sweeps[len(set.Sweeps)-1]
	last.Winds = append(last.Winds, w)
}

func wound(m *maker, r session.Record, e session.Wound, st session.Step) {
	set := m.setting()
	n := len(set.Sweeps)
	if n == 0 || len(set.Sweeps[n-1].Winds) == 0 {
		return
	}
	winds := set.Sweeps[n-1].Winds
	done := &winds[len(winds)-1]
	done.Event, done.Reading, done.Gauge = r.N, e.Reading, e.Gauge
	m.keep(Entry{Event: r.N, At: r.T, Kind: "wind", Part: st.Before.Part, Trial: st.Before.Trial, Number: done.What.Step, Name: e.Slide,
		Value: indicator.Value{V: done.What.Wind.Travel, U: nan}, Text: done.Text + lines.GaugedWords(e.Gauge, m.setting().Unit)})
}

func took(m *maker, x *Entry, e session.Took, st session.Step) {
	x.Kind, x.Value.V = "reading", e.Reading
	if e.At != nil {
		x.Kind, x.Value.V, x.Text = "point", nan, record.PlaceWords(st.After.Set.Job.Dial, geom.Point(*e.At), m.setting().Unit)
	}
	if e.Corrected {
		x.Text = strings.TrimPrefix(x.Text+", as proposed", ", ")
	}
	x.Text = strings.TrimPrefix(x.Text+lines.GaugedWords(e.Gauge, m.setting().Unit), ", ")
	m.station(x, e.Bearing, e.Again, st)
	if s := &st.After; x.Number >= 1 && x.Number <= s.Sweep.N && s.Sweep.Stations[x.Number-1].Surprise {
		why := "a surprise: " + record.SlipWords(s.Sweep.Stations[x.Number-1].Because)
		x.Text = strings.TrimPrefix(x.Text+"; "+why, "; ")
	}
}

// reopened takes the close of the sweep back, and puts the reading to it.
func reopened(m *maker, r session.Record, e session.Reopened, st session.Step) {
	if n := st.Before.Reopens(); n > 0 {
		m.setting().back(n)
	}
	x := Entry{Event: r.N, At: r.T, Part: st.After.Part, Trial: st.After.Trial, Value: indicator.Value{V: nan, U: nan}}
	took(m, &x, session.Took{Bearing: e.Bearing, Reading: e.Reading, Gauge: e.Gauge}, st)
	m.keep(x)
}

func skipped(m *maker, x *Entry, e session.Skipped, st session.Step) {
	x.Kind, x.Text = "skipped", string(e.Off)
	m.station(x, e.Bearing, e.Again, st)
}

// station says which station an entry is of, and takes what it replaces out of what stands.
func (m *maker) station(x *Entry, b geom.Bearing, again int, st session.Step) {
	x.Bearing = &b
	if x.Number = st.After.Sweep.N; again == 0 {
		return
	}
	x.Number = again
	set := m.setting()
	for i := len(set.Entries) - 1; i >= 0; i-- {
		if e := &set.Entries[i]; e.gone == 0 && e.Bearing != nil && e.Number == again && e.of(&st.After) {
			e.gone = x.Event
			return
		}
	}
}

func noted(m *maker, x *Entry, e session.Noted, _ session.Step) {
	x.Kind, x.Text = "note", e.Text
	if e.About > 0 {
		x.Text = fmt.Sprintf("of event %d: %s", e.About, e.Text)
	}
	set := m.settingOf(e.About)
	set.Notes = append(set.Notes, Note{x.Event, e.About, x.At, e.Text})
}

func ticked(_ *maker, x *Entry, e session.Ticked, _ session.Step) {
	x.Kind, x.Text = "tick", fmt.Sprintf("element %d is done", e.N)
}

func sized(m *maker, x *Entry, e session.Sized, _ session.Step) {
	x.Kind, x.Value.V, x.Text = "size", e.Radius, lines.SizedWords(e, m.setting().Unit)
}

func worked(m *maker, x *Entry, e session.Worked, st session.Step) {
	x.Kind = "step"
	if all := lines.Of(st, m.setting().Unit); len(all) > 0 {
		x.Text = all[0].Text()
	}
	if e.Value != nil {
		x.Value.V = *e.Value
	}
}

func biased(m *maker, x *Entry, e session.Biased, st session.Step) {
	x.Kind, x.Value.V, x.Text = "bias", e.By, lines.Of(st, m.setting().Unit)[0].Text()
}

func limitStated(m *maker, x *Entry, e session.LimitStated, st session.Step) {
	x.Kind, x.Value.V, x.Text = "stated", e.Limit, lines.Of(st, m.setting().Unit)[0].Text()
}

func accepted(m *maker, x *Entry, _ session.Accepted, st session.Step) {
	x.Kind = "accepted"
	set := m.setting()
	set.Accepted, set.stood = x.Event, st.Before
	f, err := st.Before.Fit()
	if err != nil {
		return
	}
	x.Value, _ = st.Before.Swing(&f)
	if goal := st.Before.Goal(); goal != nil {
		x.Text = "centre at " + record.PlaceWords(st.Before.Set.Job.Dial, *goal, set.Unit)
		return
	}
	f, _ = st.Before.Standing(&f)
	x.Text = fmt.Sprintf("centre x %s, y %s", record.Measured(set.Unit, f.CentreX()), record.Measured(set.Unit, f.CentreY()))
}
