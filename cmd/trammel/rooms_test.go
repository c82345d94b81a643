package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// room is a row of the table of rooms: a package, and what its files (tests apart) may import beyond the standard
// library, ours by folder, others by path.
type room struct {
	name              string
	ours, not, others []string
}

// mayUse reports whether a room may import one of ours.
func (r room) mayUse(ours string) bool { return covers(r.ours, ours) && !covers(r.not, ours) }

// covers reports whether a list of names and name/… holds a path.
func covers(list []string, p string) bool {
	return slices.ContainsFunc(list, func(entry string) bool {
		folder, all := strings.CutSuffix(entry, "/…")
		return p == folder || (all && strings.HasPrefix(p, folder+"/"))
	})
}

// tableOfRooms reads the table in DEVELOPERS.md, where its grammar stands too.
func tableOfRooms(t *testing.T) []room {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(top, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	rooms, amiss := readRooms(string(text))
	for _, what := range amiss {
		t.Error("DEVELOPERS.md: " + what)
	}
	if len(rooms) == 0 {
		t.Fatal("DEVELOPERS.md: no table of rooms")
	}
	return rooms
}

var ticked = regexp.MustCompile("`([^`]+)`")

func names(cell string) (out []string) {
	for _, m := range ticked.FindAllStringSubmatch(cell, -1) {
		out = append(out, m[1])
	}
	return out
}

// readRooms reads the first table whose head begins with "room"; a row that allows nothing in words (testdata) is no
// package. It says which rows it cannot read: each name in them must be a room.
func readRooms(text string) (rooms []room, amiss []string) {
	_, table, _ := strings.Cut(text, "\n| room |")
	table, _, _ = strings.Cut(table, "\n\n")
	var above []string
	for _, row := range strings.Split(table, "\n")[min(2, strings.Count(table, "\n")):] {
		cells := strings.Split(strings.Trim(row, "|"), "|")
		if len(cells) != 4 || len(names(cells[0])) != 1 {
			amiss = append(amiss, "not one room and four cells: "+row)
			continue
		}
		if strings.TrimSpace(cells[2]) == "" {
			continue
		}
		r := room{name: names(cells[0])[0], others: names(cells[3])}
		may, but, _ := strings.Cut(cells[2], " but ")
		r.ours, r.not = names(may), names(but)
		switch words := strings.Trim(ticked.ReplaceAllString(may, ""), " ,"); words {
		case "":
		case "nothing":
		case "the above":
			r.ours = append(r.ours, above...)
		default:
			amiss = append(amiss, r.name+" may use "+words+": no words of the table's")
		}
		above = append(above, r.name)
		rooms = append(rooms, r)
	}
	for _, r := range rooms {
		for _, n := range slices.Concat(r.ours, r.not) {
			if !slices.ContainsFunc(rooms, func(of room) bool { return covers([]string{n}, of.name) }) {
				amiss = append(amiss, r.name+" may use "+n+": no room of the table")
			}
		}
	}
	return rooms, amiss
}

// The table's grammar, and what it does not take.
func TestReadRooms(t *testing.T) {
	const head = "text\n\n| room | lives | ours | others |\n|---|---|---|---|\n"
	rooms, amiss := readRooms(head + "| `a` | x | nothing | `m.org/…` |\n| `a/b` | x | `a` | |\n| `c` | x | the above but `a/b` | |\n| " +
		"`d` | x | `a/…` | |\n| `data` | x | | |\n\ntext")
	if len(rooms) != 4 || len(amiss) != 0 {
		t.Fatalf("%d rooms, amiss %q; want 4 and nothing", len(rooms), amiss)
	}
	for _, c := range []struct {
		room     int
		uses     string
		may, and bool // of ours, of others
	}{{0, "a", false, false}, {0, "m.org/x", false, true}, {1, "a", true, false}, {1, "c", false, false},
		{2, "a", true, false}, {2, "a/b", false, false}, {3, "a/b", true, false}, {3, "ab", false, false}} {
		if r := rooms[c.room]; r.mayUse(c.uses) != c.may || covers(r.others, c.uses) != c.and {
			t.Errorf("%s uses %s: of ours %v, of others %v; want %v, %v", r.name, c.uses, r.mayUse(c.uses), covers(r.others, c.uses), c.may,
				c.and)
		}
	}
	for _, bad := range []string{"| `a` | x | `b` | |\n", "| `a` | x | nothing |\n", "| a | x | nothing | |\n",
		"| `a` | x | whatever it likes | |\n"} {
		if _, amiss := readRooms(head + bad + "\n"); len(amiss) != 1 {
			t.Errorf("%q: amiss %q, want one thing", bad, amiss)
		}
	}
}
