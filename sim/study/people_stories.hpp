// How the stories of groups go: each moves the levers of one kind of illness to a person's severity and, on the
// treatment day, back as far as treatment works in this person.
#pragma once

#include "study/people.hpp"

namespace drawdown::study::stories {

// Of `infection` for five days: a cold, nothing else.
void cold(const Person& person, StoryEvents& story);
// Antibody and debris rise together, and in some synthesis falls; treatment takes antibody down at once, debris and
// synthesis follow as tissue heals.
void flare(const Person& person, StoryEvents& story);
// A sore throat and, when it is built up, the activating surface it leaves behind, for a week.
void throat(const Person& person, StoryEvents& story);
// A nephritic factor for good; treatment blocks factor B.
void nephritic_factor(const Person& person, StoryEvents& story);
void cryoglobulins(const Person& person, StoryEvents& story);
// The same, and treatment takes the person's quiet antibody down too.
void cryoglobulins_and_antibody(const Person& person, StoryEvents& story);
// Cold antibodies on red cells; treatment blocks C1s.
void cold_antibodies(const Person& person, StoryEvents& story);
// Antibody that was there before; on the onset day a clot or a loss releases debris for some weeks. Thinning the blood
// moves no lever.
void clot(const Person& person, StoryEvents& story);
// Little C1 inhibitor since birth; treatment replaces it by weight.
void inhibitor_lacking(const Person& person, StoryEvents& story);
// The liver comes down to the severity, and back as far as its cause is removed.
void failing_liver(const Person& person, StoryEvents& story);
// Built up to the third trimester, born on the treatment day, back in six weeks.
void pregnancy(const Person& person, StoryEvents& story);
// Joints outside the model's tissues signal to the liver; no complexes settle.
void inflamed_joints(const Person& person, StoryEvents& story);
// The same since long; treatment blocks IL-6.
void inflamed_joints_il6(const Person& person, StoryEvents& story);
// Severe infection from one day to the next; treatment ends it within a day.
void germs_in_the_blood(const Person& person, StoryEvents& story);
// A flare of antibody that hardly fixes complement (IgG4): deposits, and little use.
void membranous(const Person& person, StoryEvents& story);
// A nephritic factor of C5 type for good.
void terminal_factor(const Person& person, StoryEvents& story);
// Antibodies to C1q, and complexes in the skin.
void vasculitis(const Person& person, StoryEvents& story);

}  // namespace drawdown::study::stories
