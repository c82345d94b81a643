package tui

import "example.org/trammel/indicator/session"

// maxPoint bounds what is typed for a point, which has two numbers.
const maxPoint = 2*maxEntry + 1

// longest is how many characters the entry takes now.
func (m *Model) longest() int {
	if m.pointAsked() {
		return maxPoint
	}
	return maxEntry
}

// pointAsked reports whether two coordinates are asked for.
func (m *Model) pointAsked() bool {
	return m.view.Prompt.Reading.Touch && m.view.Prompt.Waits == session.ForReading
}

// between reports whether a key is a space between two coordinates, or what may stand for one.
func (m *Model) between(name string) bool {
	return m.pointAsked() && m.view.Entry != "" && (name == " " || name == ";")
}
