package session

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/indicator"
)

// Differ says that the files are not what the open setting was opened with: each difference that can be put right in it.
// A program says it, not a person.
type Differ struct{ Causes []Cause }

// Differs: the files were found to differ from the setting.
type Differs struct {
	Causes []Cause `json:"changes"`
}

func (Differs) row() *EventRow  { return differs }
func (Differ) row() *CommandRow { return differ }

var differs = event[Differs]{kind: "differs",
	check: func(e Differs) error { return checkCauses(e.Causes) },
	fits:  func(s *State, e Differs) error { return s.ofSlides(e.Causes) },
	apply: func(s *State, e Differs) {
		if s.Accused == nil {
			s.Named = e.Causes
			return
		}
		s.Named = append(slices.Clone(s.Named), e.Causes...) // what the winds have put in question stays so
	},
}.row()

var differ = command[Differ]{decide: func(s *State, c Differ) (Event, error) {
	if s.Accepted() {
		return nil, refuse(s.hint(), "the setting is accepted")
	}
	if err := checkCauses(c.Causes); err != nil {
		return nil, refuse("", "%v", err)
	}
	for i := range c.Causes {
		if _, ok := s.restatedSet(&c.Causes[i]); !ok {
			return nil, refuse("", "%s, need a key that can be put right", fmt.Sprintf("%q", c.Causes[i].Key))
		}
	}
	return Differs(c), nil
}}.row()

// DifferencesFrom compares what can be put right with how a setting would be opened today.
func (s *State) DifferencesFrom(now *Opened) (out []Cause) {
	for i := range statements {
		st := &statements[i]
		names := []string{""}
		if !st.all {
			names = nil
			for _, sl := range s.Set.Machine.Slides {
				names = append(names, sl.Name)
			}
		}
		for _, n := range names {
			was, ok := st.value(s.Set, n)
			is, has := st.value(now, n)
			if ok && has && was != is {
				out = append(out, Cause{Key: st.keyOf(n), Was: was, Is: is})
			}
		}
	}
	return out
}

// OthersFrom compares all else that job and machine state: what differs there needs a setting of its own. Was and Is are
// values with their units, empty where nothing is stated. A limit that was stated in the setting alone is none of the file's.
func (s *State) OthersFrom(now *Opened) (out []Cause) {
	own := *now
	now = &own
	for _, figure := range s.Here {
		if at := indicator.LimitOf(figure, &now.Job.Setup, &now.Job.Dial); at != nil && !now.Job.Stated.Has(figure) {
			*at = *indicator.LimitOf(figure, &s.Set.Job.Setup, &s.Set.Job.Dial)
		}
	}
	was, is := map[string]string{}, map[string]string{}
	for i, o := range []*Opened{s.Set, now} {
		into := []map[string]string{was, is}[i]
		flatten("", o.Job, into)
		flatten("", o.Machine, into)
	}
	keys := []string{}
	for _, m := range []map[string]string{was, is} {
		for k := range m {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	for _, k := range slices.Compact(keys) {
		if was[k] != is[k] && !s.goesWith(k, now) {
			out = append(out, Cause{Key: k, Was: was[k], Is: is[k]})
		}
	}
	return out
}

// goesWith reports whether a key is one that can be put right, or goes with one: a sense takes its take_up with it.
func (s *State) goesWith(key string, now *Opened) bool {
	if _, _, ok := statementOf(key); ok {
		return true
	}
	name, ok := strings.CutSuffix(strings.TrimPrefix(key, "slide."), ".take_up")
	if !ok {
		return false
	}
	was, _ := s.Set.Machine.Slide(name)
	is, _ := now.Machine.Slide(name)
	return was.Clockwise != is.Clockwise && was.TakeUp != is.TakeUp
}

// flatten gives each value of job or machine the key that it has in the file.
func flatten(key string, v any, into map[string]string) {
	text, err := json.Marshal(v)
	if err != nil {
		return
	}
	var tree any
	if json.Unmarshal(text, &tree) == nil {
		spread(key, tree, into)
	}
}

// What of job and machine is kept beside what their files say, or is told by a key that is named otherwise there; which of
// their figures are angles; and which are numbers without a unit. All others are lengths.
var (
	keptBeside = []string{"stated", "setup.reach_known", "name"}
	fileNames  = strings.NewReplacer("about.centre_at", "target.centre_at", "about.", "setup.",
		"head.figures", "head.sense", "table.figures", "table.sense", ".figures", ".collar_figures")
	angles = []string{"zero", "askew", "askew_limit", "reached_from", "reached_to", "indicator_bearing", "angle_error", "setup.angle",
		"lever_angle", "lever_limit", "vernier", "side", "sweep.from", "sweep.to", "head.graduation", "table.graduation"}
	counts = []string{"divisions", "stations", "at_least", "reads_to", "slide_error_per_100", "square_per_100"}
)

func spread(key string, v any, into map[string]string) {
	last := key[strings.LastIndex(key, ".")+1:]
	of := func(all []string) bool { return slices.Contains(all, last) || slices.Contains(all, key) }
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			spread(fileNames.Replace(strings.TrimPrefix(key+"."+k, ".")), x, into)
		}
		return
	case []any:
		for i, x := range v {
			name := strconv.Itoa(i + 1)
			if m, ok := x.(map[string]any); ok && m["name"] != nil {
				name = fmt.Sprint(m["name"])
				delete(m, "name")
			}
			spread(strings.Replace(key, "slides", "slide", 1)+"."+name, x, into)
		}
		return
	case float64:
		number := func(x float64) string { return strconv.FormatFloat(math.Round(x*1e6)/1e6, 'f', -1, 64) }
		switch {
		case of(angles):
			into[key] = number(v*180/math.Pi) + "°"
		case of(counts):
			into[key] = number(v)
		default:
			into[key] = number(v) + " mm"
		}
		return
	case nil:
		return
	}
	if !of(keptBeside) && !slices.Contains(keptBeside, strings.SplitN(key, ".", 2)[0]) {
		into[key] = fmt.Sprint(v)
	}
}
