// Package exposure estimates what a job does to the air and to the people in it: how fast ingredients evaporate, what
// collects near the work, in the room and in the rooms beside it, what fraction of each exposure limit people meet, how hot
// a curing mix becomes, and how sure all of that is.
//
//	example.yaml, Job ─► Check ─► Run ───────► Result ─► WriteText, JSON, charts (SVG)
//	       ▲                       │  ▲
//	substance.Table ───────────────┘  └── Sample (ranges ─► percentiles, drivers)
//
// The single formulas (dilution air, purge time, Raoult, Le Chatelier …) are public functions of their own, each with its
// equation, range and reference. docs/exposure.md describes the room model and its limits. Results are estimates for
// planning; only a measurement tells what is in the air. The package reads no files and keeps no state.
package exposure
