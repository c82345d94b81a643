package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"testing"
)

// FuzzOpen feeds any bytes as a file. They are refused as damaged and left alone, or they
// are, to the byte, the lines given plus what was set aside.
func FuzzOpen(f *testing.F) {
	lines, whole := sixLines()
	f.Add([]byte(nil))
	f.Add([]byte("\n"))
	f.Add([]byte("\n\n"))
	f.Add(lines[0])
	f.Add(bytes.TrimSuffix(lines[1], []byte("\n")))
	f.Add(append(bytes.Clone(lines[2]), "{\"a\":1}\n"...))
	f.Add(append(bytes.Clone(lines[2]), '\n'))
	f.Add(whole)
	f.Add(whole[:len(whole)-7])
	f.Fuzz(func(t *testing.T, data []byte) {
		path := tempPath(t)
		put(t, path, data)
		read, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		j, rec, err := Open(path)
		var damage *DamageError
		if errors.As(err, &damage) {
			if read.Damage == nil || *read.Damage != *damage {
				t.Fatalf("open says %v, read says %v", damage, read.Damage)
			}
			if !bytes.Equal(content(t, path), data) {
				t.Fatal("damaged file was changed")
			}
			wantOnly(t, path, "plate.journal")
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		mustClose(t, j)
		wantLines(t, "opened", j.Lines(), read.Lines)
		var back []byte
		for _, p := range j.Lines() {
			back = append(back, encode(p)...)
		}
		if !bytes.Equal(content(t, path), back) {
			t.Fatalf("file after opening %q, its lines are %q", content(t, path), back)
		}
		if rec.Torn > 0 {
			back = append(back, content(t, rec.TornPath)...)
		}
		if !bytes.Equal(back, data) {
			t.Fatalf("lines and torn bytes are %q, file was %q", back, data)
		}
		again, rec := mustOpen(t, path)
		wantLines(t, "opened again", again.Lines(), read.Lines)
		if rec != (Recovery{}) {
			t.Fatalf("second opening mended %+v", rec)
		}
		mustClose(t, again)
	})
}

// FuzzAppendRead hands any bytes to Append. What is taken comes back the same and stands on
// one line; what is refused leaves no trace; an object on one line, as a JSON decoder of
// another make sees it, is always taken.
func FuzzAppendRead(f *testing.F) {
	for _, p := range sixPayloads() {
		f.Add(p)
	}
	for _, s := range []string{"", "{}", "{\"a\":\n1}", `{"a"}`, `{ "a" : "\n" }`, "{\t\"\":0}", `{"a":1}{"b":2}`, `{"c":"149cdbb2"}`,
		"}{"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, payload []byte) {
		path := tempPath(t)
		j := mustCreate(t, path)
		err := j.Append(payload)
		mustClose(t, j)
		var object map[string]json.RawMessage
		isObject := json.Unmarshal(payload, &object) == nil && len(object) > 0 &&
			payload[0] == '{' && payload[len(payload)-1] == '}' && !bytes.ContainsRune(payload, '\n')
		if err != nil {
			if !errors.Is(err, errPayload) || isObject {
				t.Fatalf("payload %q refused: %v", payload, err)
			}
			if got := content(t, path); len(got) != 0 {
				t.Fatalf("payload %q refused, yet %q was written", payload, got)
			}
			return
		}
		read, err := Read(path)
		if err != nil || read.Err() != nil || len(read.Torn) != 0 {
			t.Fatalf("payload %q: %v, %v, torn %q", payload, err, read.Err(), read.Torn)
		}
		wantLines(t, "read", read.Lines, [][]byte{payload})
		line := content(t, path)
		if bytes.IndexByte(line, '\n') != len(line)-1 {
			t.Fatalf("payload %q: line %q, want one line feed, at its end", payload, line)
		}
		if isObject {
			// By its bytes, as it is read: a payload may have a field of that name itself.
			want := fmt.Sprintf(`,"c":"%08x"}`+"\n", slowCRC32C(payload[:len(payload)-1]))
			if !json.Valid(line) || !bytes.HasSuffix(line, []byte(want)) {
				t.Fatalf("payload %q: line %q, want it to end in %q", payload, line, want)
			}
		}
	})
}
