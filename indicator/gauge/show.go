package gauge

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.org/trammel/geom"
)

// controls are the names of the control characters 0 to 31 (ISO/IEC 646; from memory).
var controls = [...]string{"NUL", "SOH", "STX", "ETX", "EOT", "ENQ", "ACK", "BEL", "BS", "HT", "LF", "VT", "FF", "CR", "SO", "SI", "DLE",
	"DC1", "DC2", "DC3", "DC4", "NAK", "SYN", "ETB", "CAN", "EM", "SUB", "ESC", "FS", "GS", "RS", "US"}

// Show is what came, as it may be shown: a control character by its name, <ESC>, what else does not print by its number, and a byte
// that is no text by its own, \xff. Nothing of it drives a terminal. More than so many characters are cut off, and said so.
func Show(raw string, most int) string {
	var b strings.Builder
	shown := 0
	for i, r := range raw {
		if shown++; shown > most {
			fmt.Fprintf(&b, "… %d bytes more", len(raw)-i)
			break
		}
		_, n := utf8.DecodeRuneInString(raw[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, raw[i])
		case r < ' ':
			b.WriteString("<" + controls[r] + ">")
		case r == 0x7f:
			b.WriteString("<DEL>")
		case !geom.Prints(r):
			fmt.Fprintf(&b, "<U+%04X>", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
