package invent

// Unplanted names the checks of package audit for which no fault is planted, each with the reason.
func Unplanted() map[string]string { return map[string]string{} }
