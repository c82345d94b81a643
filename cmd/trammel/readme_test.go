package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// mostReadme bounds README.md, bytes: it is a front door, and all else are pages of help.
const mostReadme = 12_000

// README stays short, what it points to is there, and the cautions stand right behind the job that leads up to a cut.
func TestReadme(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(top, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	if len(b) > mostReadme {
		t.Errorf("README.md has %d bytes, need at most %d: what is looked up belongs on a page of help", len(b), mostReadme)
	}
	pointed := regexp.MustCompile(`\]\(([^)#]+)\)|(?:src|href)="([^"#]+)"`).FindAllStringSubmatch(text, -1)
	pictures := 0
	for _, m := range pointed {
		name := m[1] + m[2]
		if strings.HasSuffix(name, ".svg") {
			pictures++
		}
		if _, err := os.Stat(filepath.Join(top, filepath.FromSlash(name))); err != nil {
			t.Errorf("README.md points to %s, which is not there", name)
		}
	}
	if pictures < 3 {
		t.Errorf("README.md shows %d pictures, need a wind, a settled page and a sheet", pictures)
	}
	for _, m := range otherTopic.FindAllStringSubmatch(text, -1) {
		if _, ok := findTopic(m[1]); !ok {
			t.Errorf("README.md names the page %s, which is not there", m[1])
		}
	}
	heads := regexp.MustCompile(`(?m)^## (.*)$`).FindAllStringSubmatch(text, -1)
	for i, h := range heads {
		if strings.HasPrefix(h[1], "One job") && i+1 < len(heads) && heads[i+1][1] == "Before you cut" {
			return
		}
	}
	t.Errorf("the cautions do not stand right behind the job: %q", heads)
}

// Every key of a job's or a machine's file, every setting and every verb is told on some page: nothing has to be found in the sources.
func TestPagesTellEverything(t *testing.T) {
	var all strings.Builder
	for page, text := range shownPages(t) {
		if strings.HasPrefix(page, "cmd/trammel/help/") || page == "README.md" {
			all.WriteString(text)
		}
	}
	told := func(word string) bool {
		return regexp.MustCompile(`(^|[^\w.-])` + regexp.QuoteMeta(word) + `($|[^\w-])`).MatchString(all.String())
	}
	keys := map[string]bool{}
	tag := regexp.MustCompile("`toml:\"(\\w+)\"`")
	files, err := fs.Glob(os.DirFS(filepath.Join(top, "indicator", "job")), "*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		b, err := os.ReadFile(filepath.Join(top, "indicator", "job", name))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range tag.FindAllSubmatch(b, -1) {
			keys[string(m[1])] = !strings.HasSuffix(name, "_test.go") || keys[string(m[1])]
		}
	}
	for _, s := range settingRows {
		keys[s.key] = true
	}
	if len(keys) < 80 {
		t.Errorf("%d keys, at least 80 were there when this was written", len(keys))
	}
	for key, ours := range keys {
		if ours && !told(key) {
			t.Errorf("no page tells of the key %s", key)
		}
	}
	for _, c := range newRoot(world{}).Commands() {
		if !told(c.Name()) {
			t.Errorf("no page tells of the verb %s", c.Name())
		}
	}
}
