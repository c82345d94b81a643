package main

import (
	_ "embed" // for a script's end
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
)

// shell is one whose lines can be completed: its name, the script that it reads, and where that goes. The scripts are cobra's, and
// ask the program what may stand where the cursor is.
type shell struct {
	name, use string
	script    func(*cobra.Command, io.Writer) error
}

var shells = []shell{
	{"bash", "source <(trammel completion bash), in ~/.bashrc", bashScript},
	{"zsh", `trammel completion zsh > "${fpath[1]}/_trammel", with compinit in ~/.zshrc`,
		func(c *cobra.Command, out io.Writer) error { return c.GenZshCompletion(out) }},
	{"fish", "trammel completion fish > ~/.config/fish/completions/trammel.fish",
		func(c *cobra.Command, out io.Writer) error { return c.GenFishCompletion(out, true) }},
	{"powershell", "trammel completion powershell | Out-String | Invoke-Expression, in $PROFILE",
		func(c *cobra.Command, out io.Writer) error { return c.GenPowerShellCompletionWithDesc(out) }},
}

// bashWords is what cobra's script asks the package bash-completion for, done here where that is not loaded: the words up to the
// cursor, put together again where bash parts them at = and at : within a word. Behind a redirection nothing is offered, and bash
// offers files: cobra's script has what is typed evaluated, and that would write.
//
//go:embed completion.bash
var bashWords string

func bashScript(c *cobra.Command, out io.Writer) error {
	if err := c.GenBashCompletionV2(out, true); err != nil {
		return err
	}
	_, err := io.WriteString(out, bashWords)
	return err
}

func shellNames() (all []string) {
	for _, s := range shells {
		all = append(all, s.name)
	}
	return all
}

func newCompletion(w world) *cobra.Command {
	var uses strings.Builder
	for _, s := range shells {
		fmt.Fprintf(&uses, "\n  %-11s %s", s.name, s.use)
	}
	return &cobra.Command{
		Use:   "completion " + strings.Join(shellNames(), "|"),
		Short: "the script by which a shell completes verbs, flags, machines, journals, arcs",
		Long: `completion writes the script by which a shell completes what is typed behind trammel: verbs,
flags and topics, the names of machines and jobs that are known, journals, and of the drawing
on the line its layers and arcs. Completing only reads: it makes and changes nothing.
` + uses.String(),
		Example: "  trammel completion bash",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return misuse("completion takes one shell, seen %d, need one of %s", len(args), strings.Join(shellNames(), ", "))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, s := range shells {
				if s.name == args[0] {
					return s.script(cmd.Root(), w.uncareful())
				}
			}
			return misuse("completion for %q, need one of %s", args[0], strings.Join(shellNames(), ", "))
		},
	}
}

// completing reports whether a shell asks what may stand on a line.
func completing(args []string) bool {
	return len(args) > 0 && (args[0] == cobra.ShellCompRequestCmd || args[0] == cobra.ShellCompNoDescRequestCmd)
}

// silently has nothing said on standard error while a shell completes: it would stand across the line that is typed. Cobra writes
// there by itself too.
func silently(w world) world {
	w.err = io.Discard
	os.Stderr, _ = os.OpenFile(os.DevNull, os.O_WRONLY, 0) // what cannot be written to says nothing either
	return w
}

// bare are the verbs that go by no settings, so that a file of them that is damaged is in nobody's way: help, and what is made of the
// same texts.
var bare = map[string]bool{"help": true, "completion": true, "man": true}
