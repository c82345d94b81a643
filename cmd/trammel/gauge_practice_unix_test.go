//go:build unix

package main

import (
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// gauged is a person at a practice machine with a cable indicator, who sees the screen, and has Enter and the arrow keys.
type gauged struct {
	*presser
	stations, winds, others int // that were answered
	arrows                  int
}

// press types Enter once the page has stood long enough to be read. Its figures move all the time, so that no screen stands still for
// as long.
func (g *gauged) press() (page string) {
	g.t.Helper()
	page = g.page()
	time.Sleep(toHold / g.pace)
	g.sends('\r')
	return page
}

// enter answers a page by one Enter, and wants what it is known by to be gone.
func (g *gauged) enter(known string) {
	g.t.Helper()
	g.press()
	g.until(fmt.Sprintf("another page than that of %q", known), func(rows []string) bool {
		return !strings.Contains(strings.Join(rows, "\n"), known)
	})
}

// arrowKeys are those of a terminal (ECMA-48 cursor keys, as xterm sends them), by the way that they turn a handle: a tenth of a
// division, or one.
var arrowKeys = map[string][2]string{"clockwise": {"\x1b[C", "\x1b[A"}, "anticlockwise": {"\x1b[D", "\x1b[B"}}

var (
	wayNow = regexp.MustCompile(`(?s)slide: .{0,60}?\b(anticlockwise|clockwise)\s+(?:past|to)`)
	toGo   = regexp.MustCompile(`(?m)^ *([0-9]\.[0-9]{3}) mm [█·]`)
)

// winds does by the words on the page what a wind under the needle wants, until it is said to stand there.
func (g *gauged) wind() {
	g.t.Helper()
	for n := 0; ; n++ {
		page := g.page()
		way := wayNow.FindStringSubmatch(page)
		switch {
		case strings.Contains(page, "there, and standing still: Enter"):
			return
		case n > 200:
			g.t.Fatalf("after %d arrows it is not done; the screen:\n%s", g.arrows, page)
		case way == nil: // the needle has not come to rest
			g.leaves(page)
			continue
		}
		keys := arrowKeys[way[1]]
		key, times := keys[1], 1
		if left := toGo.FindStringSubmatch(page); left != nil {
			switch mm, _ := strconv.ParseFloat(left[1], 64); {
			case mm < 0.025:
				key = keys[0]
			case mm > 0.1:
				times = 3
			}
		}
		g.arrows += times
		g.types(strings.Repeat(key, times))
		g.leaves(page)
		time.Sleep(2 * mostOften) // until the needle is seen to have followed
	}
}

// works answers the pages as they come: until so many stations are taken, or the job is done.
func (g *gauged) works(stations int) {
	g.t.Helper()
	station := regexp.MustCompile(`station [0-9]+ of [0-9]+: swing to [0-9]+°`)
	for g.stations < stations {
		page := g.page()
		at := station.FindString(page)
		switch {
		case strings.Contains(page, "the job is done"):
			return
		case at != "":
			g.shows("✓ still", "Enter take needle")
			time.Sleep(2 * mostOften) // a hand is slower than what was on its way to the screen
			g.shows("✓ still")
			g.enter(at)
			g.stations++
		case strings.Contains(page, "wind until the needle shows") || wayNow.MatchString(page):
			g.wind()
			g.enter("standing still: Enter")
			g.winds++
		default: // it may come in parts, or be asked for once more
			g.leaves(g.press())
			g.others++
		}
	}
}

// Practice by the cable indicator on a terminal, from the start page: the simulated line is read like a real one's, its needle stands still
// at the station that the head has been swung to, and one Enter takes it. Where TRAMMEL_HANDS
// is set the whole job is worked too, by what the screen says alone, and its keys are counted.
func TestPracticeByGaugeOnAScreen(t *testing.T) {
	t.Parallel()
	g := &gauged{presser: startPage(t, t.TempDir(), 80, 24)}
	g.shows("5  practice with a cable indicator")
	g.presses("5\r")
	g.shows("at the target the dial reads", "Enter goes on") // the title has room for the machine only where its number is short
	g.works(2)
	g.shows("station 2, ")
	g.types("q")
	g.shows("5  practice with a cable indicator")
	g.presses("/")
	g.ends(exitDone)
	if os.Getenv("TRAMMEL_HANDS") == "" {
		return
	}
	cmd := program(t, t.TempDir(), "practice", "--gauge", "--seed", "7")
	cmd.Args[0] = quickly
	g = &gauged{presser: &presser{on(t, cmd, 80, 24), keypads[0]}}
	g.shows("practice 7", "Enter goes on")
	g.works(100)
	g.press()
	end := g.ends(exitDone)
	t.Logf("%d stations and %d winds by one Enter each, and %d arrows; %d Enters on other pages", g.stations, g.winds, g.arrows, g.others)
	if g.stations < 10 || g.winds < 3 {
		t.Errorf("%d stations, %d winds; want a whole job's", g.stations, g.winds)
	}
	trulyStands(t, end)
}
