package main

import (
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// BenchmarkOpenAndFold100k opens a journal file of a hundred thousand events for writing, checks every line, and
// folds it, as a resumed session does: whole settings of the practice machine one behind the other, and the densest
// of the golden journals, which is winds and doubts for the most part. peak-MB is the most heap in use, looked at
// every 500 events. One run (-benchtime 5x) on a quiet machine: 0.40 s and 49 MB, 0.44 s and 43 MB; under load up to
// 0.6 s.
func BenchmarkOpenAndFold100k(b *testing.B) {
	for _, name := range []string{"v1-practice-7.jsonl", "v1-misread.jsonl"} {
		b.Run(name, func(b *testing.B) {
			path := filepath.Join(b.TempDir(), "j.jsonl")
			longJournal(b, path, name, 100_000)
			openAndFold(b, path)
		})
	}
}

func openAndFold(b *testing.B, path string) {
	b.ReportAllocs()
	open := func(each func(session.Step)) {
		j, _, err := journal.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		if s, err := session.Fold(j.Lines(), each); err != nil || s.Events != 100_000 {
			b.Fatalf("%d events, %v", s.Events, err)
		}
		if err := j.Close(); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		open(nil)
	}
	testdata.ReportPeak(b, open)
}

// longJournal writes a journal of n events: a golden journal again and again.
func longJournal(b *testing.B, path, from string, n int) {
	b.Helper()
	once := eventsOf(b, from)
	writeJournal(b, path, n, func(i int) session.Event { return once[i%len(once)] })
}

// eventsOf are the events of a golden journal.
func eventsOf(b *testing.B, name string) (all []session.Event) {
	b.Helper()
	got, err := journal.Read(filepath.Join("..", "..", "testdata", "journal", name))
	if err != nil {
		b.Fatal(err)
	}
	for i, line := range got.Lines {
		r, err := session.Decode(i+1, line)
		if err != nil {
			b.Fatal(err)
		}
		all = append(all, r.Event)
	}
	return all
}

// writeJournal writes a journal of n events, a second apart.
func writeJournal(b *testing.B, path string, n int, event func(i int) session.Event) {
	b.Helper()
	var text strings.Builder
	at := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	for i := range n {
		line, err := session.Encode(i+1, at.Add(time.Duration(i)*time.Second), event(i))
		if err != nil {
			b.Fatal(err)
		}
		body := line[:len(line)-1]
		fmt.Fprintf(&text, "%s,\"c\":\"%08x\"}\n", body, crc32.Checksum(body, crc32.MakeTable(crc32.Castagnoli)))
	}
	if err := os.WriteFile(path, []byte(text.String()), 0o600); err != nil {
		b.Fatal(err)
	}
}
