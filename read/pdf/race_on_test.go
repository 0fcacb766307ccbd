//go:build race

package pdf_test

// underRace tells that the race detector is on, which makes measures of time meaningless.
const underRace = true
