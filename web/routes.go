package web

// Route is one address of the application: what answers it and which role it needs.
type Route struct {
	Method, Path string
	Need         Role
	Serve        func(*App, *visit) error
	Large        int64 // the largest body in bytes; 0 for that of a form
}

func (r Route) bodyLimit() int64 {
	if r.Large > 0 {
		return r.Large
	}
	return maxFormBytes
}

// Routes lists every address, screen by screen. Whoever may read may also ask what-if questions (a label check, a job's
// figures): these keep nothing.
func Routes() []Route {
	return []Route{
		{Method: "POST", Path: "/theme", Need: Anyone, Serve: setTheme},
	}
}
