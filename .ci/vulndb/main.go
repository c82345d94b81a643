// Command vulndb makes a folder that govulncheck can read with -db file://FOLDER from a checkout of the module
// golang.org/x/vulndb, for machines that reach a module proxy and no vulnerability server.
//
//	go run .ci/vulndb/main.go CHECKOUT FOLDER
package main

import (
	"encoding/json"
	"log"
	"os"
	"path/filepath"
	"slices"
)

// report is what of an OSV file goes into the index.
type report struct {
	ID       string   `json:"id"`
	Modified string   `json:"modified"`
	Aliases  []string `json:"aliases"`
	Affected []struct {
		Package struct {
			Name string `json:"name"`
		} `json:"package"`
		Ranges []struct {
			Events []struct {
				Fixed string `json:"fixed"`
			} `json:"events"`
		} `json:"ranges"`
	} `json:"affected"`
}

type found struct {
	ID       string `json:"id"`
	Modified string `json:"modified"`
	Fixed    string `json:"fixed,omitempty"`
}

type module struct {
	Path  string  `json:"path"`
	Vulns []found `json:"vulns"`
}

type listed struct {
	ID       string   `json:"id"`
	Modified string   `json:"modified"`
	Aliases  []string `json:"aliases,omitempty"`
}

func main() {
	if len(os.Args) != 3 {
		log.Fatal("vulndb: need the module's folder and the folder to write")
	}
	files, err := filepath.Glob(filepath.Join(os.Args[1], "data", "osv", "*.json"))
	must(err)
	if len(files) == 0 {
		log.Fatalf("vulndb: no data/osv/*.json under %s", os.Args[1])
	}
	must(os.MkdirAll(filepath.Join(os.Args[2], "ID"), 0o755))
	must(os.MkdirAll(filepath.Join(os.Args[2], "index"), 0o755))
	modules, newest, all := map[string]*module{}, "", []listed{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		must(err)
		var r report
		must(json.Unmarshal(text, &r))
		must(os.WriteFile(filepath.Join(os.Args[2], "ID", r.ID+".json"), text, 0o644))
		newest = max(newest, r.Modified)
		all = append(all, listed{r.ID, r.Modified, r.Aliases})
		for _, a := range r.Affected {
			m := modules[a.Package.Name]
			if m == nil {
				m = &module{Path: a.Package.Name}
				modules[m.Path] = m
			}
			v := found{ID: r.ID, Modified: r.Modified}
			for _, g := range a.Ranges {
				for _, e := range g.Events {
					if e.Fixed != "" {
						v.Fixed = e.Fixed
					}
				}
			}
			if !slices.ContainsFunc(m.Vulns, func(o found) bool { return o.ID == v.ID }) {
				m.Vulns = append(m.Vulns, v)
			}
		}
	}
	sorted := []*module{}
	for _, m := range modules {
		sorted = append(sorted, m)
	}
	slices.SortFunc(sorted, func(a, b *module) int {
		if a.Path < b.Path {
			return -1
		}
		return 1
	})
	write("db.json", map[string]string{"modified": newest})
	write("modules.json", sorted)
	write("vulns.json", all)
}

func write(name string, v any) {
	text, err := json.Marshal(v)
	must(err)
	must(os.WriteFile(filepath.Join(os.Args[2], "index", name), text, 0o644))
}

func must(err error) {
	if err != nil {
		log.Fatal("vulndb: ", err)
	}
}
