package talk

import (
	"fmt"
	"slices"

	"mortarboard/planner"
)

// shelfWords are how staff ask for what stands on their shelf.
type shelfWords struct {
	Ties     []string            `yaml:"ties"`
	Between  []string            `yaml:"between"`
	Other    []string            `yaml:"other"`
	Use      []string            `yaml:"use-words"`
	Meet     []string            `yaml:"meet"`
	Mouth    []string            `yaml:"mouth"`
	Contents map[string][]string `yaml:"contents"`
	Cures    map[string][]string `yaml:"cures"`
	Jobs     []shelfJob          `yaml:"jobs"`
}

// A shelfJob is what several classes of product do: all of them cement, or abrade.
type shelfJob struct {
	Name    string   `yaml:"name"`
	Says    []string `yaml:"says"`
	Classes []string `yaml:"classes"`
	Beside  []string `yaml:"beside"` // classes of other jobs that may stand in
}

// fillShelf enters the words for contents, cures and jobs.
func (x *lexicon) fillShelf() {
	s := x.words.Shelf
	for content, says := range s.Contents {
		x.enter("shelf:contents", sense{list: "shelf:contents", name: content}, says)
	}
	for cure, says := range s.Cures {
		x.enter("shelf:cures", sense{list: "shelf:cures", name: cure}, says)
	}
	for _, job := range s.Jobs {
		x.enter("shelf:jobs", sense{list: "shelf:jobs", name: job.Name}, job.Says)
	}
}

// job is the job of that name.
func (s shelfWords) job(name string) shelfJob {
	i := slices.IndexFunc(s.Jobs, func(j shelfJob) bool { return j.Name == name })
	return s.Jobs[i]
}

// jobOf is the job that products of a class do; every class has one.
func (s shelfWords) jobOf(class string) shelfJob {
	i := slices.IndexFunc(s.Jobs, func(j shelfJob) bool { return slices.Contains(j.Classes, class) })
	return s.Jobs[i]
}

// does reports whether a step is of the job, by the class that it wants first.
func (j shelfJob) does(s planner.PlannedStep) bool {
	return len(s.Needs) > 0 && slices.Contains(j.Classes, s.Needs[0])
}

// shelf refuses contents, cures and classes that a shelf cannot hold, and a class
// without a job.
func (c *checker) shelf() {
	s := c.words.Shelf
	for content := range s.Contents {
		if !slices.Contains(planner.ShelfContents(), content) {
			c.refuse(fmt.Sprintf("no product may name %q", content), "shelf", "contents", content)
		}
	}
	for cure := range s.Cures {
		if !slices.Contains(planner.ShelfCures(), cure) {
			c.refuse(fmt.Sprintf("no product cures %q", cure), "shelf", "cures", cure)
		}
	}
	c.jobs(s.Jobs)
}

func (c *checker) jobs(jobs []shelfJob) {
	var done []string
	for i, j := range jobs {
		done = append(done, j.Classes...)
		if j.Name == "" || len(j.Says) == 0 || len(j.Classes) == 0 {
			c.refuse("name, says and classes are needed", "shelf", "jobs", fmt.Sprint(i))
		}
		for _, class := range slices.Concat(j.Classes, j.Beside) {
			if !slices.Contains(planner.ShelfClasses(), class) {
				c.refuse(fmt.Sprintf("no product is a %q", class), "shelf", "jobs", class)
			}
		}
	}
	for _, class := range planner.ShelfClasses() {
		if !slices.Contains(done, class) {
			c.refuse(fmt.Sprintf("no job is done by %q", class), "shelf", "jobs")
		}
	}
}
