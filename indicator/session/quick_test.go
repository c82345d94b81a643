package session

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// goldenLines are the lines of the golden journals, without the check that the journal adds.
func goldenLines(t testing.TB) (lines [][]byte, numbers []int) {
	t.Helper()
	files, err := filepath.Glob("../../testdata/journal/*.jsonl")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d golden journals, %v", len(files), err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range bytes.Split(bytes.TrimSpace(text), []byte("\n")) {
			at := bytes.LastIndex(l, []byte(`,"c":"`))
			lines, numbers = append(lines, append(bytes.Clone(l[:at]), '}')), append(numbers, i+1)
		}
	}
	return lines, numbers
}

// TestQuickReadsGoldens: every line that was ever written goes the quick way, and all the events of
// frequent kinds in them without encoding/json.
func TestQuickReadsGoldens(t *testing.T) {
	lines, numbers := goldenLines(t)
	frequent := 0
	for i, l := range lines {
		r, ok := quick(numbers[i], l)
		if !ok {
			t.Errorf("%s is not read the quick way", l)
			continue
		}
		slow, err := decode(numbers[i], l)
		if err != nil || !reflect.DeepEqual(r, slow) {
			t.Errorf("%s reads %+v, encoding/json reads %+v (%v)", l, r, slow, err)
		}
		at := bytes.Index(l, []byte(`,"d":`)) + len(`,"d":`)
		if row := r.Event.row(); row.quick != nil {
			frequent++
			if _, ok := row.quick(l[at : len(l)-1]); !ok {
				t.Errorf("%s needs encoding/json", l)
			}
		}
	}
	if frequent < 150 {
		t.Errorf("%d events of frequent kinds, want most of the %d", frequent, len(lines))
	}
}

// FuzzQuick holds the quick reading to encoding/json: what it takes, the other takes for the same.
func FuzzQuick(f *testing.F) {
	lines, numbers := goldenLines(f)
	for i, l := range lines {
		f.Add(numbers[i], l)
	}
	head := `{"v":1,"n":3,"t":"2025-03-04T09:12:31.000Z","k":`
	for _, tail := range []string{
		`"reading","d":{"bearing":-0,"reading":1e-7,"again":0}}`,
		`"reading","d":{"bearing":01,"reading":.5}}`,
		`"reading","d":{"bearing":0x1,"reading":1_0}}`,
		`"reading","d":{"bearing":1,"reading":-3e999}}`,
		`"reading","d":{"bearing":1,"reading":2,"corrected":true}}`,
		`"reading","d":{"bearing":1,"reading":2} ,"k":"note"}`,
		`"reading","d":{"reading":2,"bearing":1}}`,
		`"reading","d":{"bearing":1,"reading":2}}}`,
		`"reading","d":{"bearing":0,"reading":0,"gauge":{"source":"","samples":0}}}`,
		`"wound","d":{"slide":"\u0078","reading":null}}`,
		`"told","d":{"step":1,"of":1,"wind":{"slide":"x","travel":1,"moves":[],"collar_to":1}}}`,
		"\"swept\",\"d\":\u00a0{\"why\":\"wind\"}}",
	} {
		f.Add(3, []byte(head+tail))
	}
	f.Fuzz(func(t *testing.T, n int, line []byte) {
		r, ok := quick(n, line)
		if !ok {
			return
		}
		slow, err := decode(n, line)
		if err != nil {
			t.Fatalf("%s was read the quick way, and is refused: %v", line, err)
		}
		got, err := Encode(r.N, r.T, r.Event)
		if err != nil {
			t.Fatal(err)
		}
		want, err := Encode(slow.N, slow.T, slow.Event)
		if err != nil || !bytes.Equal(got, want) || !reflect.DeepEqual(r, slow) {
			t.Fatalf("%s reads %s, encoding/json reads %s (%v)", line, got, want, err)
		}
	})
}

// A frequent kind with a field that this form does not have is still read, or refused, in full.
func TestQuickLeavesOtherForms(t *testing.T) {
	line := `{"v":1,"n":3,"t":"2025-03-04T09:12:31.000Z","k":"reading","d":{"reading":2, "bearing":1}}`
	if r, err := Decode(3, []byte(line)); err != nil || r.Event != (Took{Bearing: 1, Reading: 2}) {
		t.Errorf("fields in another order: %+v, %v", r.Event, err)
	}
	line = strings.Replace(line, `{"reading":2,`, `{"reading":2,"table":1,`, 1)
	if _, err := Decode(3, []byte(line)); err == nil || !strings.Contains(err.Error(), `unknown field "table"`) {
		t.Errorf("a field more: %v, want it named", err)
	}
}
