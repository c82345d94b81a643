package main

// dialPlan is for a screen to choose an arc on.
func dialPlan(world, *common, *dialFlags) error {
	return withHint(misuse("--drawing without --arc, need the number of an arc"), "trammel plan lists them")
}
