package session

import (
	"fmt"
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
	apply: func(s *State, e Differs) { s.Named = e.Causes },
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
