package main

import (
	"go/ast"
	"go/token"
	"slices"
	"testing"
)

// The only rooms where it is asked which set-up it is: that of the set-ups, the parser of files, and what a reading means.
var askKinds = []string{"indicator", "indicator/setup", "indicator/job"}

// Where a kind is asked all the same, by room and file, and why.
var mayAsk = map[string]string{
	"indicator/record fit.go":       "a fit has no job, only the setup of its readings",
	"indicator/record roundness.go": "a profile has no job, only the setup of its readings",
	"cmd/trammel check.go":          "the word is a flag's",
}

// asksOtherwise is a kind's question in disguise: its method, or a comparison with a set-up's word; empty for all else.
func asksOtherwise(n ast.Node) string {
	switch n := n.(type) {
	case *ast.CallExpr:
		sel, ok := n.Fun.(*ast.SelectorExpr)
		if !ok || !slices.Contains([]string{"Turns", "Pair"}, sel.Sel.Name) {
			return ""
		}
		if of, ok := sel.X.(*ast.SelectorExpr); ok && (of.Sel.Name == "Kind" || of.Sel.Name == "Setup") {
			return of.Sel.Name + "." + sel.Sel.Name + "()"
		}
	case *ast.SelectorExpr:
		if of, ok := n.X.(*ast.SelectorExpr); ok && of.Sel.Name == "Target" && n.Sel.Name == "SweepsSwing" {
			return "Target.SweepsSwing"
		}
	case *ast.BinaryExpr:
		for _, e := range []ast.Expr{n.X, n.Y} {
			l, ok := e.(*ast.BasicLit)
			if ok && (n.Op == token.EQL || n.Op == token.NEQ) && slices.Contains([]string{`"carried"`, `"turned"`, `"points"`}, l.Value) {
				return "the word " + l.Value
			}
		}
	}
	return ""
}

// Nobody else compares a kind of set-up with one of them, or looks whether one is tapped or set off: they ask the set-up.
func TestNobodyAsksWhichSetUp(t *testing.T) {
	asked := 0
	for _, s := range sources(t) {
		mine := slices.Contains(askKinds, s.room)
		ask := func(e ast.Expr) {
			sel, ok := e.(*ast.SelectorExpr)
			if !ok || !slices.Contains([]string{"Carried", "Turned", "Points"}, sel.Sel.Name) {
				return
			}
			if id, ok := sel.X.(*ast.Ident); !ok || id.Name != "indicator" {
				return
			}
			if !mine {
				t.Errorf("%s/%s asks for indicator.%s: ask the set-up", s.room, s.name, sel.Sel.Name)
			}
			asked++
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if why := asksOtherwise(n); why != "" && !mine && s.room != "indicator/practice" && mayAsk[s.room+" "+s.name] == "" {
				t.Errorf("%s/%s asks for %s: ask the set-up", s.room, s.name, why)
			}
			switch n := n.(type) {
			case *ast.BinaryExpr:
				if n.Op == token.EQL || n.Op == token.NEQ {
					ask(n.X)
					ask(n.Y)
				}
			case *ast.CaseClause:
				for _, e := range n.List {
					ask(e)
				}
			case *ast.SelectorExpr: // job.Setup.Taps, job.Target.SetOff, set.Job.About
				of, ok := n.X.(*ast.SelectorExpr)
				if !ok || mine || s.room == "indicator/session" && s.name == "open.go" { // which records what the machine makes of it
					return true
				}
				if of.Sel.Name == "Setup" && n.Sel.Name == "Taps" || of.Sel.Name == "Target" && n.Sel.Name == "SetOff" ||
					of.Sel.Name == "Job" && n.Sel.Name == "About" {
					t.Errorf("%s/%s asks for %s.%s: ask the set-up", s.room, s.name, of.Sel.Name, n.Sel.Name)
				}
			}
			return true
		})
	}
	if asked == 0 {
		t.Error("no room asks for a kind: this test has lost sight of the kinds")
	}
}
