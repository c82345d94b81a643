package main

import "os"

// leadsNowhere reports whether a way out leads nowhere. There a closed one is no file, and what is written to it fails by itself.
func leadsNowhere(*os.File) bool { return false }
