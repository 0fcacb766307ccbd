// Package substance holds reference facts about single substances by CAS number, EC number and name: physical data,
// classifications and exposure limits, every value with its source. Values that were recalled and not looked up are
// marked (Source.Memory) and must be shown so; a user's own copy of an official table can be laid over the embedded
// one and taken off again.
//
//	data/*.csv (embedded) ──────────────► Table ─┬─► ByCAS, ByEC, Search ─► Substance ─► ForRuleSet, LimitsFor,
//	user's table (XLSX, CSV) ─► Plan ─► Overlay ─┘ With                                 VapourPressure, WriteCard
//
// The package reads no files and keeps no state: readers in, values out. Tables and substances are not to be changed by
// callers; Table.With gives a new table.
package substance
