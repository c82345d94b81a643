package drawing

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"example.org/trammel/geom"
)

// pages are the code pages of one byte a character, by what $DWGCODEPAGE calls them. Those of more (932, 936, 949, 950)
// are told and not decoded, for their tables are large and only names are lost; \U+XXXX works there all the same.
var pages = map[string]*charmap.Charmap{
	"ansi_874": charmap.Windows874, "ansi_1250": charmap.Windows1250, "ansi_1251": charmap.Windows1251, "ansi_1252": charmap.Windows1252,
	"ansi_1253": charmap.Windows1253, "ansi_1254": charmap.Windows1254, "ansi_1255": charmap.Windows1255, "ansi_1256": charmap.Windows1256,
	"ansi_1257": charmap.Windows1257, "ansi_1258": charmap.Windows1258, "dos437": charmap.CodePage437, "dos850": charmap.CodePage850,
	"dos852": charmap.CodePage852, "dos855": charmap.CodePage855, "dos860": charmap.CodePage860, "dos863": charmap.CodePage863,
	"dos865": charmap.CodePage865, "dos866": charmap.CodePage866, "iso8859-1": charmap.ISO8859_1, "iso8859-2": charmap.ISO8859_2,
	"iso8859-5": charmap.ISO8859_5, "iso8859-7": charmap.ISO8859_7, "iso8859-9": charmap.ISO8859_9,
}

// utf8Since is the version ($ACADVER) from which text is UTF-8: R2007.
const utf8Since = "AC1021"

// names turns the bytes of names into text, each once.
type names struct {
	version, page string
	known         map[string]string
	told          *tally
}

// longest is how much of a name is kept.
const longest = 255

// text decodes a name: by the file's code page, with \U+XXXX written out and nothing left in it that
// could drive a terminal.
func (n *names) text(b []byte) string {
	b = bytes.TrimSpace(b[:min(len(b), 4*longest)])
	if s, ok := n.known[string(b)]; ok {
		return s
	}
	s := n.decode(b)
	if strings.Contains(s, `\U+`) {
		s = unescape(s)
	}
	if runes := []rune(s); len(runes) > longest {
		s = string(runes[:longest])
	}
	s = geom.Printable(s, utf8.RuneError)
	if len(n.known) < MaxLayers {
		n.known[string(b)] = s
	}
	return s
}

func (n *names) decode(b []byte) string {
	if !bytes.ContainsFunc(b, func(r rune) bool { return r >= utf8.RuneSelf }) {
		return string(b)
	}
	switch page, ok := pages[strings.ToLower(n.page)]; {
	case n.version >= utf8Since, n.version == "" && n.page == "" && utf8.Valid(b):
		if !utf8.Valid(b) {
			n.told.count(Note{Kind: CodePage, Text: "the file's version writes UTF-8, these bytes are none", Count: 1})
		}
		return strings.ToValidUTF8(string(b), string(utf8.RuneError))
	case ok:
		return decoded(page, b)
	case n.page == "":
		n.told.count(Note{Kind: CodePage, Text: "the file names no code page; read as ansi_1252", Count: 1})
		return decoded(charmap.Windows1252, b)
	}
	n.told.count(Note{Kind: CodePage, Text: "code page " + strconv.QuoteToASCII(n.page), Count: 1})
	return strings.Map(func(r rune) rune {
		if r < utf8.RuneSelf {
			return r
		}
		return utf8.RuneError
	}, string(b))
}

func decoded(page *charmap.Charmap, b []byte) string {
	var s strings.Builder
	for _, c := range b {
		s.WriteRune(page.DecodeByte(c))
	}
	return s.String()
}

// unescape writes out \U+XXXX, four hexadecimal digits, by which files of any code page hold any
// character. Two that are the halves of one character (UTF-16) are joined.
func unescape(s string) string {
	var out strings.Builder
	for {
		before, after, found := strings.Cut(s, `\U+`)
		out.WriteString(before)
		if !found {
			return out.String()
		}
		s = after
		high, ok := hex4(s)
		if !ok {
			out.WriteString(`\U+`)
			continue
		}
		s = s[4:]
		if rest, escaped := strings.CutPrefix(s, `\U+`); escaped && high >= 0xd800 && high < 0xdc00 {
			if low, ok := hex4(rest); ok && low >= 0xdc00 && low < 0xe000 {
				high, s = 0x10000+(high-0xd800)<<10+(low-0xdc00), rest[4:]
			}
		}
		out.WriteRune(high)
	}
}

func hex4(s string) (rune, bool) {
	if len(s) < 4 {
		return 0, false
	}
	v, err := strconv.ParseUint(s[:4], 16, 32)
	return rune(v), err == nil
}
