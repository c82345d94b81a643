package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// tabbed is a line as far as it is typed when a shell asks what may stand next. Nothing that is asked of it may write.
type tabbed struct {
	w    world
	c    *common
	cmd  *cobra.Command // with its flags read
	args []string
	word string // as far as it is typed
}

// offer is one thing that may stand there, and what it is; empty where its name says it.
type offer struct{ name, what string }

// offers say what may stand at a place. Where nothing of that begins as the word does, or there is none, files do, of those endings
// where there are some.
type offers struct {
	known   func(*tabbed) []offer // nil for none
	files   bool
	endings []string
	folders bool // folders only
	goesOn  bool // something is typed behind what is offered
	inTurn  bool // as they come, not by the letters
}

var (
	anyFile    = offers{files: true}
	ofDrawing  = offers{files: true, endings: []string{"dxf", "toml"}}
	ofMachines = offers{known: machineOffers, files: true, endings: []string{"toml"}}
	ofJournals = offers{known: journalOffers, files: true, inTurn: true}
)

// flagOffers are what may stand behind a flag, by its name; behind others stands a figure, or what nobody else can know.
var flagOffers = map[string]offers{
	"machine":     ofMachines,
	"job":         {known: jobOffers, files: true, endings: []string{"toml"}},
	"journal":     ofJournals,
	"learnt-from": ofJournals,
	"from":        ofJournals,
	"drawing":     ofDrawing,
	"points":      anyFile,
	"out":         anyFile,
	"layer":       {known: layerOffers},
	"metal":       {known: metalOffers},
	"arc":         {known: arcOffers, inTurn: true},
	"cutter":      {known: cutterOffers, inTurn: true},
	"gauge":       {known: wordOffers("serial:", "fifo:", "exec:", withoutGauge), goesOn: true},
	"bearings":    {known: wordOffers(string(session.ByRing), string(session.ByFrame))},
	"side":        {known: wordOffers("inside", "outside", "on")},
	"touch":       {known: wordOffers("bore", "boss")},
	"chords":      {known: wordOffers("off")},
	"trap":        {known: trapOffers},
	"lesson":      {known: lessonOffers},
	"setup":       {known: wordOffers(setupWords()...)},
	"hand":        {known: wordOffers(practice.Parked.String(), practice.Collar.String(), practice.TwoPoint.String())},
}

// argOffers are what may stand behind a verb, by its place and name; the last goes for all that follow.
var argOffers = map[string][]offers{
	"fit":          {anyFile},
	"plan":         {ofDrawing, {}},
	"sheet":        {ofDrawing, {}},
	"blends":       {ofDrawing, ofJournals},
	"replay":       {ofJournals, {}},
	"report":       {ofJournals},
	"note":         {ofJournals, {}},
	"machine show": {{known: machineOffers}, {}},
	"machine test": {{known: machineOffers}, {}},
	"machine mend": {{known: machineOffers}, {}},
	"reach spin":   {anyFile},
	"reach pair":   {anyFile},
	"reach pin":    {anyFile},
	"reach cut":    {anyFile},
	"reach check":  {anyFile},
	"reach rock":   {anyFile},
	"reach origin": {anyFile},
	"completion":   {{known: wordOffers(shellNames()...)}, {}},
	"man":          {{folders: true}, {}},
	"help":         {{known: helpOffers}},
}

// addOffers hangs what may stand where on all verbs and flags, which is of use only while a shell completes.
func addOffers(w world, c *common, root *cobra.Command) {
	for _, cmd := range verbs(root) {
		places := argOffers[strings.TrimPrefix(cmd.CommandPath(), root.Name()+" ")]
		cmd.ValidArgsFunction = func(cmd *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
			var o offers
			if n := len(places); n > 0 {
				o = places[min(len(args), n-1)]
			}
			return o.at(&tabbed{w, c, cmd, args, word})
		}
		cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
			o := offersOf(f)
			// Refused is only a flag that is not there, or has its offers.
			_ = cmd.RegisterFlagCompletionFunc(f.Name, func(cmd *cobra.Command, args []string, word string) ([]cobra.Completion,
				cobra.ShellCompDirective) {
				return o.at(&tabbed{w, c, cmd, args, word})
			})
		})
	}
}

// offersOf are what may stand behind a flag: one of its kind's words, where it shows them as a|b, else by its name.
func offersOf(f *pflag.Flag) offers {
	if kinds := strings.Split(f.Value.Type(), "|"); len(kinds) > 1 {
		return offers{known: wordOffers(kinds...)}
	}
	return flagOffers[f.Name]
}

// verbs are a command and all below it.
func verbs(root *cobra.Command) []*cobra.Command {
	all := []*cobra.Command{root}
	for _, sub := range root.Commands() {
		all = append(all, verbs(sub)...)
	}
	return all
}

// at is what may stand there, as cobra takes it.
func (o *offers) at(t *tabbed) (out []cobra.Completion, how cobra.ShellCompDirective) {
	if o.goesOn {
		how |= cobra.ShellCompDirectiveNoSpace
	}
	if o.inTurn {
		how |= cobra.ShellCompDirectiveKeepOrder
	}
	if o.known != nil {
		for _, a := range o.known(t) {
			if strings.HasPrefix(a.name, t.word) && a.shows() {
				out = append(out, cobra.CompletionWithDesc(a.name, printable(a.what)))
			}
		}
	}
	switch {
	case o.folders:
		return nil, cobra.ShellCompDirectiveFilterDirs
	case len(out) > 0 || !o.files:
		return out, how | cobra.ShellCompDirectiveNoFileComp
	case len(o.endings) > 0:
		return o.endings, cobra.ShellCompDirectiveFilterFileExt
	}
	return nil, cobra.ShellCompDirectiveDefault
}

// shows reports whether a name can stand on a line as it is: names of files and layers may hold what drives a terminal, and a shell
// strips spaces at their ends.
func (o *offer) shows() bool {
	return o.name != "" && utf8.ValidString(o.name) && o.name == strings.TrimSpace(o.name) &&
		!strings.ContainsFunc(o.name, func(r rune) bool { return !geom.Prints(r) })
}

func wordOffers(all ...string) func(*tabbed) []offer {
	return func(*tabbed) (out []offer) {
		for _, w := range all {
			out = append(out, offer{name: w})
		}
		return out
	}
}

func setupWords() (all []string) {
	for _, s := range practice.Setups() {
		all = append(all, s.String())
	}
	return all
}

func trapOffers(*tabbed) (out []offer) {
	for _, t := range practice.Traps() {
		out = append(out, offer{t.String(), t.Told()})
	}
	return out
}

func lessonOffers(*tabbed) (out []offer) {
	for _, l := range practice.Course() {
		out = append(out, offer{l.String(), l.Title()})
	}
	return out
}

// helpOffers are the verbs and the topics that help is on, below what is typed already.
func helpOffers(t *tabbed) (out []offer) {
	at, rest, err := t.cmd.Root().Find(t.args)
	if err != nil || len(rest) > 0 {
		return nil
	}
	for _, c := range at.Commands() {
		if !untold(c) {
			out = append(out, offer{c.Name(), c.Short})
		}
	}
	for _, topic := range helpTopics() {
		same := func(o offer) bool { return o.name == topic.Name }
		if !at.HasParent() && !slices.ContainsFunc(out, same) {
			out = append(out, offer{topic.Name, topic.About})
		}
	}
	return out
}

func machineOffers(t *tabbed) []offer { return named(knownMachines(t.w)) }

func jobOffers(t *tabbed) []offer { return named(knownJobs(t.w)) }

// named are the names of what is kept, but for a file there that is not called as such things are; where the folder cannot be read,
// there is none.
func named(_ string, names []string, _ error) (out []offer) {
	for _, n := range names {
		if job.NameFits(n, nil) == nil {
			out = append(out, offer{name: n})
		}
	}
	return out
}

// journalOffers are the journals of the data folder, which are called by the time that they were begun, the newest first.
func journalOffers(t *tabbed) (out []offer) {
	folder, err := dataFolder(t.w)
	if err != nil {
		return nil
	}
	entries, _ := os.ReadDir(folder)
	for _, e := range slices.Backward(entries) {
		if strings.HasSuffix(e.Name(), ".jsonl") && !e.IsDir() {
			out = append(out, offer{name: filepath.Join(folder, e.Name())})
		}
	}
	return out
}

// planned is the drawing on the line, planned by the flags on it; nil where there is none, or it cannot be.
func (t *tabbed) planned() *planned {
	f := newPlanFlags()
	mine := &cobra.Command{}
	f.add(mine)
	mine.Flags().VisitAll(func(flag *pflag.Flag) {
		if given := t.cmd.Flags().Lookup(flag.Name); given != nil && given.Changed {
			putFlag(flag, given)
		}
	})
	name, text := t.drawing()
	if text == nil {
		return nil
	}
	p, err := planText(t.w, t.c, &f, name, text)
	if err != nil {
		return nil
	}
	return p
}

// putFlag gives a flag what another was given.
func putFlag(to, from *pflag.Flag) {
	given := []string{from.Value.String()}
	if list, ok := from.Value.(pflag.SliceValue); ok {
		given = list.GetSlice()
	}
	for _, v := range given {
		_ = to.Value.Set(v) // it was good there
	}
}

// drawing is the file of the drawing, or of the points, that the line names, and what it holds; nil where it names none. Standard
// input is not one: nobody types there while a shell completes.
func (t *tabbed) drawing() (name string, text []byte) {
	for _, flag := range []string{"points", "drawing"} {
		if f := t.cmd.Flags().Lookup(flag); f != nil && f.Changed {
			name = f.Value.String()
		}
	}
	if name == "" && len(t.args) > 0 {
		name = t.args[0]
	}
	if name == "-" {
		return name, nil
	}
	text, err := readPlain(name, drawing.MaxBytes)
	if err != nil {
		return name, nil
	}
	return name, text
}

// layers are those of the drawing on the line.
func (t *tabbed) layers() []drawing.Layer {
	name, text := t.drawing()
	f := newPlanFlags()
	out, err := f.outline(t.c, name, text)
	if err != nil || text == nil {
		return nil
	}
	return slices.DeleteFunc(out.Layers, func(l drawing.Layer) bool { return l.Count == 0 })
}

func layerOffers(t *tabbed) (out []offer) {
	for _, l := range t.layers() {
		out = append(out, offer{l.Name, fmt.Sprintf("%d drawn on it", l.Count)})
	}
	return out
}

func metalOffers(t *tabbed) (out []offer) {
	for _, l := range t.layers() {
		out = append(out, offer{name: l.Name + "=inside"}, offer{name: l.Name + "=outside"})
	}
	return out
}

// arcOffers are the numbers of the arcs that the drawing on the line has.
func arcOffers(t *tabbed) (out []offer) {
	p := t.planned()
	if p == nil {
		return nil
	}
	for _, n := range p.line.Swung() {
		if a := p.line.Arc(n); a != nil {
			out = append(out, offer{strconv.Itoa(n), "radius " + p.line.Length(a.Radius) + ", " + a.Layer})
		}
	}
	return out
}

// cutterOffers are the cutters that the settings say are at hand, in the unit that the flag is read in.
func cutterOffers(t *tabbed) (out []offer) {
	text, ok := t.w.settings.text("cutters")
	if !ok {
		return nil
	}
	all, own := lengthsOf(text)
	u := own
	if name, text := t.drawing(); text != nil {
		f := newPlanFlags()
		if o, err := f.outline(t.c, name, text); err == nil {
			u = o.Unit
		}
	}
	u = t.c.unit.or(u)
	for _, d := range all {
		out = append(out, offer{strconv.FormatFloat(u.From(own.MM(d)), 'g', 6, 64), u.String() + ", at hand by the settings"})
	}
	return out
}
