//go:build long

package shelf_test

// How often each of the crash tests kills its child.
const (
	killsReading   = 110
	killsPostgres  = 40
	killsBucket    = 15
	killsMigration = 30
	killsBackup    = 30
)
