package shelf

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"
	"github.com/riverqueue/river/rivertype"

	"sixteen/judge"
	"sixteen/read"
	"sixteen/sheet"
	"sixteen/substance"
)

// Bounds of reading.
const (
	readAttempts   = 3                // a document that ended the program this often is given up
	readTime       = 5 * time.Minute  // for one document
	workerBeat     = 2 * time.Second  // how often a process says that it lives
	workerGone     = 10 * time.Second // silence after which a process counts as gone
	infrastructure = 5                // attempts when the shelf itself fails
	ahead          = 3                // jobs taken from the queue for each document read at once, so that none waits for the queue
	queuedAhead    = time.Hour        // more than the queue waits between two attempts
)

// Desk reads and judges documents: *judge.Desk.
type Desk interface {
	Read(ctx context.Context, name string, data []byte) (*sheet.Sheet, error)
	Substances() *substance.Table
	Close() error
}

// DeskMaker opens a desk. It is called when reading begins.
type DeskMaker func(ctx context.Context) (Desk, error)

// readArgs is the job of reading one sheet.
type readArgs struct {
	Sheet string `json:"sheet"`
}

// Kind names the job in the queue.
func (readArgs) Kind() string { return "read" }

// queue is the reading in the background of this process.
type queue struct {
	shelf  *Shelf
	desk   Desk
	client *river.Client[*sql.Tx]
	id     string
	slots  chan struct{} // one for each document that may be read at once
	stop   context.CancelFunc
	done   sync.WaitGroup

	others map[string]heard // of live's goroutine

	mu      sync.Mutex
	reading map[string]context.CancelFunc // by sheet
}

// Added is what became of one document that was put on the shelf.
type Added struct {
	Sheet Sheet `json:"sheet"`
	Known bool  `json:"known"` // the same document was there already; Sheet is the one it is
}

// AddDocument puts a document on the shelf and queues it for reading: for a product when product is not "", else its product
// is found or made when it was read. When AddDocument returns without an error, document and job are on the disk. The same
// document is taken once per product. It fails with *Invalid for an empty or too large one.
func (s *Shelf) AddDocument(ctx context.Context, by, name string, data []byte, product string) (Added, error) {
	name = filepath.Base(strings.ReplaceAll(name, `\`, "/"))
	switch {
	case len(data) == 0:
		return Added{}, &Invalid{What: name + " is empty.", Do: "Choose the file again; it may not have been copied whole."}
	case len(data) > judge.MaxDocumentBytes:
		return Added{}, &Invalid{What: fmt.Sprintf("%s has %d MB.", name, len(data)>>20), Do: fmt.Sprintf("The largest document that is read has %d MB: save it smaller, or in parts.", judge.MaxDocumentBytes>>20)}
	}
	sum, err := s.keep(ctx, data)
	if err != nil {
		return Added{}, s.explained(err)
	}
	var out Added
	err = s.change(ctx, by, func(x *change) error {
		out = Added{}
		if err := x.exec(ctx, "INSERT INTO documents (sha256, name, bytes, added, by_whom) VALUES (?, ?, ?, ?, ?) ON CONFLICT (sha256) DO NOTHING", sum, storable(name), len(data), stamped(x.now), storable(by)); err != nil {
			return err
		}
		have, err := loadAll[Sheet](ctx, x, "WHERE t.document = ? AND t.retired = '' AND (? = '' OR t.product_id = ? OR t.product_id IS NULL) ORDER BY t.seq LIMIT 1", sum, product, product)
		if err != nil {
			return err
		}
		if len(have) > 0 && have[0].State != Cancelled {
			out = Added{have[0], true}
			return nil
		}
		if product != "" {
			if _, err := load[Product](ctx, x, product); err != nil {
				return err
			}
		}
		out.Sheet = Sheet{Document: sum, FileName: name, Product: product, State: Waiting}
		if err := x.insert(ctx, &out.Sheet, ""); err != nil {
			return err
		}
		return s.enqueue(ctx, x, out.Sheet.ID)
	})
	return out, err
}

// ReadAgain queues a sheet for reading again, whatever came of the last time.
func (s *Shelf) ReadAgain(ctx context.Context, by, id string) (Sheet, error) {
	var t Sheet
	err := s.change(ctx, by, func(x *change) error {
		old, err := load[Sheet](ctx, x, id)
		if err != nil {
			return err
		}
		if old.State == Waiting || old.State == Reading {
			t = old
			return nil
		}
		t = old
		t.State, t.Failure, t.Attempts, t.worker = Waiting, "", 0, ""
		if err := x.update(ctx, "to be read again", &t, &old, ""); err != nil {
			return err
		}
		return s.enqueue(ctx, x, id)
	})
	return t, err
}

// CancelReading takes sheets that wait out of the queue and stops those being read: those named, or all when none is. It
// returns how many. Their documents stay; ReadAgain queues them again.
func (s *Shelf) CancelReading(ctx context.Context, by string, ids ...string) (int, error) {
	n := 0
	var stopped []string
	err := s.change(ctx, by, func(x *change) error {
		n, stopped = 0, nil
		sheets, err := loadAll[Sheet](ctx, x, "WHERE t.state IN ('waiting', 'reading') AND t.retired = ''")
		if err != nil {
			return err
		}
		for _, old := range sheets {
			if len(ids) > 0 && !contains(ids, old.ID) {
				continue
			}
			t := old
			t.State, t.worker = Cancelled, ""
			if err := x.update(ctx, "cancelled", &t, &old, ""); err != nil {
				return err
			}
			n++
			stopped = append(stopped, t.ID)
		}
		return nil
	})
	if err == nil && s.queue != nil {
		s.queue.interrupt(stopped)
	}
	return n, err
}

// Progress is how far the reading is.
type Progress struct {
	Waiting int      `json:"waiting"`
	Reading []string `json:"reading"` // file names
	Read    int      `json:"read"`    // with the three below: all sheets on the shelf
	NoSheet int      `json:"no_sheet"`
	Failed  int      `json:"failed"`
	Stopped int      `json:"cancelled"`
	Seq     int64    `json:"seq"` // of the last change on the shelf
}

// Progress counts the sheets by state.
func (s *Shelf) Progress(ctx context.Context) (Progress, error) {
	out := Progress{Reading: []string{}}
	view, err := s.snapshot(ctx) // a sheet that ends between two questions would be in neither answer
	if err != nil {
		return out, err
	}
	defer view.end()
	rows, err := view.rows(ctx, "SELECT what, n FROM tally")
	if err != nil {
		return out, err
	}
	defer rows.Close()
	for rows.Next() {
		var what string
		var n int
		if err := rows.Scan(&what, &n); err != nil {
			return out, err
		}
		switch what {
		case sheetTally(Waiting):
			out.Waiting = n
		case sheetTally(Read):
			out.Read = n
		case sheetTally(NoSheet):
			out.NoSheet = n
		case sheetTally(Failed):
			out.Failed = n
		case sheetTally(Cancelled):
			out.Stopped = n
		}
	}
	if err := rows.Err(); err != nil {
		return out, err
	}
	names, err := view.rows(ctx, "SELECT file_name FROM sheets WHERE state = 'reading' AND retired = '' ORDER BY seq")
	if err != nil {
		return out, err
	}
	defer names.Close()
	for names.Next() {
		var name string
		if err := names.Scan(&name); err != nil {
			return out, err
		}
		out.Reading = append(out.Reading, name)
	}
	if err := names.Err(); err != nil {
		return out, err
	}
	err = view.row(ctx, "SELECT COALESCE(MAX(seq), 0) FROM trail").Scan(&out.Seq)
	return out, err
}

// enqueue adds the job of reading a sheet, in the transaction that makes the sheet wait.
func (s *Shelf) enqueue(ctx context.Context, x *change, id string) error {
	client, err := s.inserter()
	if err != nil {
		return err
	}
	_, err = client.InsertTx(ctx, x.tx, readArgs{Sheet: id}, &river.InsertOpts{MaxAttempts: infrastructure})
	return err
}

// inserter is a client of the queue that adds jobs and does none.
func (s *Shelf) inserter() (*river.Client[*sql.Tx], error) {
	s.insertOnce.Do(func() {
		s.insertClient, s.insertErr = river.NewClient(s.driver(), &river.Config{Logger: s.log, SkipUnknownJobCheck: true})
	})
	return s.insertClient, s.insertErr
}

// StartReading begins to read waiting documents in this process with so many at once (0: one per processor). Documents that a
// process which is gone left half read are read again. Several processes may read from one shelf. Close stops it.
func (s *Shelf) StartReading(ctx context.Context, workers int) error {
	if s.queue != nil {
		return errors.New("reading has begun already")
	}
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	open := s.makeDesk
	if open == nil {
		open = func(ctx context.Context) (Desk, error) { return judge.Open(ctx, judge.Options{}) }
	}
	desk, err := open(ctx)
	if err != nil {
		return err
	}
	q := &queue{shelf: s, desk: desk, id: newID(s.now()), slots: make(chan struct{}, workers), others: map[string]heard{}, reading: map[string]context.CancelFunc{}}
	all := river.NewWorkers()
	river.AddWorker(all, &readWorker{queue: q})
	q.client, err = river.NewClient(s.driver(), &river.Config{
		ID: q.id, Logger: s.log, Workers: all, Queues: map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: ahead * workers}},
		PollOnly: !s.dialect.bound, FetchPollInterval: 200 * time.Millisecond, FetchCooldown: 25 * time.Millisecond,
		JobTimeout: -1, RescueStuckJobsAfter: (ahead + 1) * readTime, // reading has its own limit
	})
	if err != nil {
		return errors.Join(err, desk.Close())
	}
	background, stop := context.WithCancel(context.WithoutCancel(ctx))
	q.stop = stop
	if err := q.alive(ctx); err != nil {
		stop()
		return errors.Join(err, desk.Close())
	}
	if err := q.client.Start(background); err != nil {
		stop()
		return errors.Join(err, desk.Close())
	}
	s.queue = q
	q.done.Add(1)
	go q.live(background)
	return nil
}

// close stops reading: what is being read is left, and read again by whoever comes next.
func (q *queue) close() error {
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	err := q.client.StopAndCancel(ctx)
	q.stop()
	q.done.Wait()
	gone := q.shelf.change(ctx, "reader", func(x *change) error {
		if err := x.exec(ctx, "DELETE FROM workers WHERE id = ?", q.id); err != nil {
			return err
		}
		return q.shelf.resume(ctx, x, q.id)
	})
	return errors.Join(err, gone, q.desk.Close())
}

// live says every little while that this process is there, and queues again what others left behind, as long as anything is
// being read.
func (q *queue) live(ctx context.Context) {
	defer q.done.Done()
	tick := time.NewTicker(workerBeat)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		var busy int
		err := q.shelf.row(ctx, "SELECT COUNT(*) FROM sheets WHERE state IN ('reading', 'waiting') AND retired = ''").Scan(&busy)
		if err == nil && busy > 0 {
			err = q.alive(ctx)
		}
		if err != nil && ctx.Err() == nil {
			q.shelf.log.Error("the shelf does not answer", "error", err)
		}
	}
}

// alive records that this process lives and takes over from those that do not: those whose mark did not change for a while as
// this process saw it. No clock of another machine is trusted.
func (q *queue) alive(ctx context.Context) error {
	return q.shelf.change(ctx, "reader", func(x *change) error {
		if err := x.exec(ctx, "INSERT INTO workers (id, beat) VALUES (?, 1) ON CONFLICT (id) DO UPDATE SET beat = workers.beat + 1", q.id); err != nil {
			return err
		}
		gone, err := q.silent(ctx, x)
		if err != nil {
			return err
		}
		for _, id := range gone {
			if err := x.exec(ctx, "DELETE FROM workers WHERE id = ?", id); err != nil {
				return err
			}
		}
		if err := q.shelf.resume(ctx, x, ""); err != nil || !q.idle() {
			return err
		}
		return q.shelf.requeue(ctx, x)
	})
}

// idle tells whether this process reads nothing at the moment.
func (q *queue) idle() bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	return len(q.reading) == 0
}

// requeue queues the sheets again that wait without a job that waits: a process fetched the job and was killed before it made the
// sheet its own. A job too many does no harm, since a sheet is read by the one who makes it theirs. Jobs that wait for a time
// far ahead, because the clock was put back since, are made to wait no longer.
func (s *Shelf) requeue(ctx context.Context, x *change) error {
	client, err := s.inserter()
	if err != nil {
		return err
	}
	const most = 10_000
	jobs, err := client.JobListTx(ctx, x.tx, river.NewJobListParams().Kinds(readArgs{}.Kind()).
		States(rivertype.JobStateAvailable, rivertype.JobStatePending, rivertype.JobStateRetryable, rivertype.JobStateScheduled).First(most))
	if err != nil {
		return err
	}
	ahead := time.Now().Add(queuedAhead)
	for _, job := range jobs.Jobs {
		if !job.ScheduledAt.After(ahead) {
			continue
		}
		if _, err := client.JobRetryTx(ctx, x.tx, job.ID); err != nil {
			return err
		}
	}
	if len(jobs.Jobs) == most {
		return nil
	}
	queued := map[string]bool{}
	for _, job := range jobs.Jobs {
		var args readArgs
		if err := json.Unmarshal(job.EncodedArgs, &args); err != nil {
			return err
		}
		queued[args.Sheet] = true
	}
	waiting, err := loadAll[Sheet](ctx, x, "WHERE t.state = 'waiting' AND t.retired = ''")
	if err != nil {
		return err
	}
	for _, t := range waiting {
		if queued[t.ID] {
			continue
		}
		if err := s.enqueue(ctx, x, t.ID); err != nil {
			return err
		}
	}
	return nil
}

// heard is the last change of another process's mark.
type heard struct {
	beat int64
	at   time.Time // with the monotonic reading of this process
}

// silent lists the processes that were not heard of for long.
func (q *queue) silent(ctx context.Context, x *change) ([]string, error) {
	rows, err := x.rows(ctx, "SELECT id, beat FROM workers WHERE id <> ?", q.id)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var gone []string
	now := time.Now()
	for rows.Next() {
		var id string
		var beat int64
		if err := rows.Scan(&id, &beat); err != nil {
			return nil, err
		}
		last, ok := q.others[id]
		switch {
		case !ok || last.beat != beat:
			q.others[id] = heard{beat, now}
		case now.Sub(last.at) > workerGone:
			gone = append(gone, id)
		}
	}
	return gone, rows.Err()
}

// resume queues the sheets again whose reader is gone. One that was left too often is given up: it may be the document that
// ends the program. closing is the process that ends in good order, "" for none.
func (s *Shelf) resume(ctx context.Context, x *change, closing string) error {
	left, err := loadAll[Sheet](ctx, x, "WHERE t.state = 'reading' AND t.retired = '' AND NOT EXISTS (SELECT 1 FROM workers w WHERE w.id = t.worker)")
	if err != nil {
		return err
	}
	for _, old := range left {
		t := old
		t.State, t.worker = Waiting, ""
		if old.worker == closing {
			t.Attempts-- // it was not the document that ended the program
		}
		if t.Attempts >= readAttempts {
			t.State, t.Failure = Failed, fmt.Sprintf("The program ended %d times while it read this document. Have it read once more, or save it again as PDF.", t.Attempts)
			if err := x.update(ctx, "given up", &t, &old, ""); err != nil {
				return err
			}
			continue
		}
		if err := x.update(ctx, "left half read", &t, &old, ""); err != nil {
			return err
		}
		if err := s.enqueue(ctx, x, t.ID); err != nil {
			return err
		}
	}
	return nil
}

// interrupt stops the reading of sheets in this process.
func (q *queue) interrupt(ids []string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	for _, id := range ids {
		if cancel, ok := q.reading[id]; ok {
			cancel()
		}
	}
}

// readWorker does the jobs of reading.
type readWorker struct {
	river.WorkerDefaults[readArgs]
	queue *queue
}

// Work reads one sheet. All that comes of it is written in one transaction, with the end of the job: a process that is killed
// before leaves nothing, and the sheet is read again. While one is written the next is read.
func (w *readWorker) Work(ctx context.Context, job *river.Job[readArgs]) error {
	q, s := w.queue, w.queue.shelf
	select {
	case q.slots <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err() // the process ends
	}
	leave := sync.OnceFunc(func() { <-q.slots })
	defer leave()
	t, mine, err := q.claim(ctx, job.Args.Sheet)
	if err != nil || !mine {
		return err
	}
	reading, cancel := context.WithTimeout(ctx, readTime)
	defer cancel()
	q.mu.Lock()
	q.reading[t.ID] = cancel
	q.mu.Unlock()
	defer func() {
		q.mu.Lock()
		delete(q.reading, t.ID)
		q.mu.Unlock()
	}()
	facts, state, failure := q.read(reading, t)
	var done outcome
	if done, err = s.prepare(reading, t, facts); err != nil && reading.Err() == nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err() // the process ends
	}
	leave()
	err = s.change(ctx, "reader", func(x *change) error {
		if err := q.finish(ctx, x, t.ID, done, state, failure); err != nil {
			return err
		}
		return complete(ctx, s.dialect, x.tx, job)
	})
	if err != nil && job.Attempt >= job.MaxAttempts {
		return errors.Join(err, s.change(ctx, "reader", func(x *change) error {
			return q.finish(ctx, x, t.ID, outcome{}, Failed, "What was read could not be kept: "+err.Error()+".")
		}))
	}
	return err
}

// complete ends the job within a transaction.
func complete(ctx context.Context, d dialect, tx *sql.Tx, job *river.Job[readArgs]) error {
	var err error
	if d.bound {
		_, err = river.JobCompleteTx[*riverdatabasesql.Driver](ctx, tx, job)
	} else {
		_, err = river.JobCompleteTx[*riversqlite.Driver](ctx, tx, job)
	}
	return err
}

// claim makes a waiting sheet this process's to read. It is not, when it was read or cancelled meanwhile, or another reads it.
func (q *queue) claim(ctx context.Context, id string) (t Sheet, mine bool, err error) {
	err = q.shelf.change(ctx, "reader", func(x *change) error {
		mine = false
		old, err := load[Sheet](ctx, x, id)
		if err != nil {
			return err
		}
		t = old
		if t.State != Waiting || !t.Retired.IsZero() {
			if t.State == Reading && t.worker == q.id { // an attempt of this process failed when it was to be kept
				mine = true
			}
			return nil
		}
		mine = true
		t.State, t.worker, t.Attempts = Reading, q.id, t.Attempts+1
		if err := x.exec(ctx, "INSERT INTO workers (id, beat) VALUES (?, 1) ON CONFLICT (id) DO NOTHING", q.id); err != nil {
			return err
		}
		return x.update(ctx, "being read", &t, &old, "")
	})
	return t, mine, err
}

// read reads the document of a sheet.
func (q *queue) read(ctx context.Context, t Sheet) (facts *sheet.Sheet, state State, failure string) {
	_, data, err := q.shelf.OpenDocument(ctx, t.Document)
	if err != nil {
		return nil, Failed, sentence(err)
	}
	facts, err = q.desk.Read(ctx, t.FileName, data)
	switch {
	case err == nil:
		return facts, Read, ""
	case errors.Is(err, read.ErrNotSheet):
		return nil, NoSheet, sentence(err)
	case errors.Is(err, context.DeadlineExceeded):
		return nil, Failed, fmt.Sprintf("Reading took longer than %d minutes and was stopped. Save the document with fewer pages or smaller pictures.", int(readTime.Minutes()))
	case errors.Is(err, context.Canceled):
		return nil, Cancelled, ""
	}
	return nil, Failed, sentence(err)
}

func sentence(err error) string {
	m := err.Error()
	return strings.ToUpper(m[:1]) + m[1:] + "."
}

// finish keeps what came of reading a sheet. A sheet that was cancelled meanwhile, or taken over, stays as it is.
func (q *queue) finish(ctx context.Context, x *change, id string, done outcome, state State, failure string) error {
	s := q.shelf
	old, err := load[Sheet](ctx, x, id)
	if err != nil {
		return err
	}
	if old.State != Reading || old.worker != q.id {
		return nil
	}
	t := old
	t.State, t.Failure, t.worker = state, failure, ""
	if state != Read {
		return x.update(ctx, string(state), &t, &old, "")
	}
	return s.keepReading(ctx, x, &t, &old, done)
}

// outcome is what came of reading a document, made before the transaction that keeps it, so that others may write meanwhile.
type outcome struct {
	facts  *sheet.Sheet     // as read, without corrections
	packed []byte           // the facts as they are kept
	ready  *judge.Judgement // nil: it is judged in the transaction
	alone  bool             // ready holds only where no rule set of the product, revision before or decision bears on it
}

// prepare packs what was read, and judges it where it looks as if it will be the first sheet of its product.
func (s *Shelf) prepare(ctx context.Context, t Sheet, facts *sheet.Sheet) (outcome, error) {
	out := outcome{facts: facts, alone: true}
	if facts == nil {
		return out, nil
	}
	var err error
	if out.packed, err = pack(facts); err != nil {
		return out, err
	}
	var others int
	err = s.row(ctx, "SELECT COUNT(*) FROM products WHERE (id = ? OR folded = ? AND retired = '') AND (sheet_id IS NOT NULL OR rule_set <> '')",
		t.Product, folded(facts.Identification.ProductName.Value)).Scan(&others)
	if err != nil || others > 0 {
		return out, err
	}
	table, err := s.substances()
	if err != nil {
		return out, err
	}
	out.ready, err = judge.JudgeSheet(ctx, facts, table, judge.Request{Now: s.now().UTC().Truncate(time.Microsecond)})
	return out, err
}

// holds tells whether a judgement that was made before the transaction is the one that would be made in it.
func (s *Shelf) holds(ctx context.Context, x *change, done outcome, t *Sheet, p Product) (bool, error) {
	if done.ready == nil || !done.alone {
		return done.ready != nil, nil
	}
	if p.RuleSet != "" || t.Supersedes != "" {
		return false, nil
	}
	about, err := s.decided(ctx, x, t.Document)
	return len(about.Corrections) == 0 && len(about.Overrulings) == 0, err
}

// keepReading keeps the facts of a document, finds its product, judges it unless the judgement is there already, and puts it in
// force when it is the newest.
func (s *Shelf) keepReading(ctx context.Context, x *change, t, old *Sheet, done outcome) error {
	facts, ready := done.facts, done.ready
	if err := x.exec(ctx, "INSERT INTO readings (document, reader, at, body) VALUES (?, ?, ?, ?) ON CONFLICT (document) DO UPDATE SET reader = excluded.reader, at = excluded.at, body = excluded.body",
		t.Document, ChecksVersion(), stamped(x.now), done.packed); err != nil {
		return err
	}
	var err error
	if t.Product == "" {
		if t.Product, err = x.productOf(ctx, facts, t.FileName); err != nil {
			return err
		}
	}
	p, err := load[Product](ctx, x, t.Product)
	if err != nil {
		return err
	}
	if p.Sheet != "" && p.Sheet != t.ID {
		if err := s.compareWith(ctx, x, t, p.Sheet, facts, p); err != nil {
			return err
		}
	}
	holds, err := s.holds(ctx, x, done, t, p)
	if err != nil {
		return err
	}
	if !holds {
		if ready, err = s.judge(ctx, x, *t, judge.Request{Now: x.now}); err != nil {
			return err
		}
	}
	if err := x.keepJudged(ctx, t, old, ready, "read"); err != nil {
		return err
	}
	if p.Sheet != "" && p.Sheet != t.ID {
		if err := s.compareOlder(ctx, x, t, p.Sheet, facts, p); err != nil {
			return err
		}
	}
	if err := x.chooseInForce(ctx, t.Product); err != nil {
		return err
	}
	return x.planReview(ctx, t.Product)
}

// planReview sets the first review of a product that has none.
func (x *change) planReview(ctx context.Context, product string) error {
	old, err := load[Product](ctx, x, product)
	if err != nil || old.ReviewDue != "" {
		return err
	}
	settings, err := settingsOf(ctx, x)
	if err != nil {
		return err
	}
	p := old
	if p.ReviewDue = nextReview(x.now, p.ReviewMonths, settings.ReviewMonths); p.ReviewDue == "" {
		return nil
	}
	return x.update(ctx, "review planned", &p, &old, "")
}
