package gauge

import (
	"fmt"
	"time"
)

// longest is how many bytes come without a line's end, at the most, from an indicator that sends lines (common practice, no source:
// a figure takes some ten, a line of several columns some eighty).
const longest = 256

// EndlessError: bytes come, and no line ends.
type EndlessError struct{ Bytes int }

func (e *EndlessError) Error() string {
	return fmt.Sprintf("%d bytes have come without a line's end, need CR or LF behind each figure", e.Bytes)
}

// Hint says what to do.
func (*EndlessError) Hint() string {
	return "it is no indicator that sends lines, or its baud rate is another: trammel gauge shows what comes"
}

// ends notes once that no line ends, where it does not.
func (r *Reader) ends(at time.Time) {
	endless := r.lines.open >= longest
	if endless && !r.endless {
		r.unread.note(&EndlessError{r.lines.open}, at)
	}
	r.endless = endless
}
