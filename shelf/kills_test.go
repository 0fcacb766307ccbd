//go:build !long

package shelf_test

// How often each of the crash tests kills its child. 'go test -tags long' kills more than 200 times.
const (
	killsReading   = 8
	killsPostgres  = 3
	killsBucket    = 2
	killsMigration = 3
	killsBackup    = 3
)
