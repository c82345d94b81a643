package lines

// Explanations are what all explanations are of, and their sentences as they stand in the tables.
func Explanations() (of []string, says [][]string) {
	for _, all := range [][]explained{choreExplained, explanations} {
		for _, e := range all {
			of, says = append(of, e.what), append(says, e.says)
		}
	}
	return of, says
}
