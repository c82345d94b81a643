//go:build unix

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// kills is how many sessions TestKilledAtRandom kills in each mode. Ten are for every run; three
// hundred take TRAMMEL_KILLS=300 go test ./cmd/trammel -run TestKilledAtRandom -timeout 30m.
func kills(t *testing.T) int {
	t.Helper()
	text := os.Getenv("TRAMMEL_KILLS")
	if text == "" {
		return 10
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		t.Fatalf("TRAMMEL_KILLS is %q, need a whole number above 0", text)
	}
	return n
}

// TestKilledAtRandom kills the program with a signal that cannot be caught, at moments by chance, in
// lines and on a terminal. What it had said is on record, whole, and a resumed session stands there.
func TestKilledAtRandom(t *testing.T) {
	t.Parallel()
	chance := rand.New(rand.NewPCG(9, 41))
	said := 0
	for n := range kills(t) {
		said += killedInLines(t, n, chance)
	}
	if said == 0 {
		t.Error("no reading was said before any kill, which proves nothing")
	}
	for n := range kills(t) {
		killedOnScreen(t, n, chance)
	}
}

// killedInLines lets the program go until it has said a number of readings, and an instant longer. It
// returns how many readings it had said.
func killedInLines(t *testing.T, n int, chance *rand.Rand) int {
	t.Helper()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "dial", "--lines", "--json", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl")
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { // the hand: it ends when the program does
		_, _ = io.WriteString(in, "\n\n\n")
		for i := 0; ; i++ {
			if _, err := fmt.Fprintf(in, "%.3f\n", 0.3*float64(i%7)/7); err != nil {
				return
			}
			if i%5 == 4 {
				_, _ = io.WriteString(in, "again\n")
			}
		}
	}()
	var values []float64 // of the readings that were said
	stop, more := chance.IntN(40), time.Duration(chance.IntN(3000))*time.Microsecond
	rows := bufio.NewScanner(out)
	for rows.Scan() {
		var l struct {
			Say   string
			Value float64
		}
		if err := json.Unmarshal(rows.Bytes(), &l); err != nil {
			break // the kill came in the middle of a line
		}
		if l.Say != "reading" {
			continue
		}
		if values = append(values, l.Value); len(values) == stop+1 {
			time.AfterFunc(more, func() { _ = cmd.Process.Signal(syscall.SIGKILL) })
		}
	}
	_ = cmd.Wait() // reports the kill
	heldOnRecord(t, fmt.Sprintf("lines, kill %d", n), filepath.Join(home, "j.jsonl"), values)
	resumes(t, home)
	return len(values)
}

// heldOnRecord wants every reading that was said to be in the journal, in order, with at most one that
// was on record and not said yet.
func heldOnRecord(t *testing.T, what, path string, said []float64) {
	t.Helper()
	j, err := journal.Read(path)
	if err != nil || j.Err() != nil {
		t.Fatalf("%s: %v, %v", what, err, j.Err())
	}
	var got []float64
	if _, err := session.Fold(j.Lines, func(st session.Step) {
		if e, ok := st.Event.(session.Took); ok {
			got = append(got, e.Reading)
		}
	}); err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if len(got) < len(said) || len(got) > len(said)+1 {
		t.Fatalf("%s: %d readings on record, %d said; want as many, or one more", what, len(got), len(said))
	}
	for i, v := range said {
		if v != got[i] {
			t.Fatalf("%s: reading %d on record is %v, %v was said", what, i+1, got[i], v)
		}
	}
}

// resumes wants a resumed session to say that it stands where the journal does.
func resumes(t *testing.T, home string) {
	t.Helper()
	path := filepath.Join(home, "j.jsonl")
	j, err := journal.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := session.Fold(j.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	if s.Set == nil || s.Phase == session.Ended {
		return // killed before the setting was opened
	}
	out, err := program(t, home, "dial", "--lines", "--resume", "--journal", "j.jsonl").Output()
	if want := fmt.Sprintf("resumed: trial %d, %d reading", s.Trial, s.Sweep.Readings()); err != nil ||
		!strings.HasPrefix(string(out), want) {
		t.Fatalf("resumed: %v, %q, want %q", err, out, want)
	}
}

// killedOnScreen types readings on a terminal and kills the program an instant after a key.
func killedOnScreen(t *testing.T, n int, chance *rand.Rand) {
	t.Helper()
	x, home, file := dialOn(t, 80, 24)
	shown := []string{"+0.080", "+0.140", "+0.260", "+0.320"}
	readings := chance.IntN(len(shown) + 1)
	for i := range readings {
		x.takes(i+1, shown[i]+"\r", shown[i])
	}
	if readings < len(shown) && n%2 == 0 {
		x.types("0.1\r") // in flight
	}
	time.Sleep(time.Duration(chance.IntN(3000)) * time.Microsecond)
	x.signals(syscall.SIGKILL)
	<-x.exited
	x.exited <- nil
	said := []float64{0.08, 0.14, 0.26, 0.32}[:readings]
	heldOnRecord(t, fmt.Sprintf("screen, kill %d", n), file, said)
	resumes(t, home)
}
