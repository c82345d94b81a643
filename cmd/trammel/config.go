package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

func newConfig(w world, c *common) *cobra.Command {
	var m manner
	cmd := &cobra.Command{
		Use:   "config",
		Short: "every setting, what holds of it, and who says so",
		Long: `config says what holds of every setting, and from where: a flag of a verb goes over
a variable, that over the file, and that over what holds by itself. The file is
config.toml in the folder for settings (XDG_CONFIG_HOME or ~/.config, then trammel;
on Windows APPDATA); it need not be there. It may hold, each left out at will:

  unit = "mm"              # or "in": of what is typed where no file names one
  operator = "JB"          # initials, kept with a setting: --by
  machine = "mill.toml"    # used where --machine is missing; counts from this folder
  quiet = false            # true: no bell
  plain = false            # true: draw with ASCII only; else as the terminal can
  colours = "auto"         # or "none"
  cutters = [8, 6]         # at hand, in the file's unit: plan, where --cutter is missing
  rings = [60, 40]         # setting rings at hand, and plugs: the diameters that the
  plugs = []               # questions for an arc's set-up propose; asked for once
  journals = "~/arcs"      # folder of journals, and of what is learnt from them

Variables are called TRAMMEL_UNIT, TRAMMEL_OPERATOR and so on; TRAMMEL_CUTTERS names its
unit too: "8 6 mm". A wrong value is refused with its line or its variable.`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return configVerb(w, c) },
	}
	cmd.Flags().String("by", "", "the operator's initials")
	cmd.Flags().String("machine", "", "machine file")
	m.add(cmd)
	return cmd
}

// settingLine says what holds of a setting.
type settingLine struct {
	Say   string `json:"say"`
	Key   string `json:"key"`
	Value any    `json:"value"` // null where nothing holds
	Unit  string `json:"unit,omitempty"`
	From  string `json:"from"`
	text  string
}

// Text: one line of the table.
func (l settingLine) Text() string { return fmt.Sprintf("%-9s %s, by %s", l.Key, l.text, l.From) }

func configVerb(w world, c *common) error {
	tellUnknown(w)
	for i := range settingRows {
		r := &settingRows[i]
		f := w.settings.all[r.key]
		if f.from == "--"+r.flag {
			if _, err := r.check(f.text, ""); err != nil {
				return misuse("%s %q, need %v", f.from, f.text, err)
			}
		}
		l := settingLine{Say: "setting", Key: r.key, From: cmp.Or(f.from, "default"), text: cmp.Or(f.text, "none")}
		if r.key == "plain" && f.from == "" { // by itself it goes by what is around
			f.text = fmt.Sprint(drawsPlainly(w.getenv, runtime.GOOS))
		}
		if r.key == "journals" && f.from == "" {
			folder, err := dataFolder(w)
			if err != nil {
				return err
			}
			f.text = folder
		}
		if f.text != "" {
			l.Value, l.text = f.text, f.text
		}
		if r.json != nil && f.text != "" {
			l.Value = r.json(f.text)
		}
		if r.many && f.text != "" {
			words := strings.Fields(f.text)
			l.Unit = words[len(words)-1]
		}
		if err := say(w, c, l); err != nil {
			return err
		}
	}
	if c.json || w.settings.file == "" {
		return nil
	}
	there := ""
	if _, err := os.Stat(w.settings.file); err != nil {
		there = ", which is not there"
	}
	_, err := fmt.Fprintf(w.out, "file: %s%s\n", printable(filepath.Clean(w.settings.file)), there)
	return err
}

// tellUnknown names the variables that look like settings and are none: a slip of the finger would go unseen else. Only here,
// for other programs' variables are no business of a verb at the machine.
func tellUnknown(w world) {
	if w.environ == nil {
		return
	}
	for _, v := range w.environ() {
		name, _, _ := strings.Cut(v, "=")
		known := func(r setting) bool { return r.variable() == name }
		if strings.HasPrefix(name, variables) && !slices.ContainsFunc(settingRows, known) {
			fmt.Fprintf(w.err, "trammel: %s is no setting of this program, and nothing goes by it\n", printable(name))
		}
	}
}
