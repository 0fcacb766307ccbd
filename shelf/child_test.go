package shelf_test

// runChild does what a test that kills this process asks for.
func runChild(string) int { return 2 }
