//! Help on what is ahead: plans, lists, timers, notes.

use super::help::Topic;

pub const TOPICS: [Topic; 5] = [
    Topic {
        words: &["data", "export", "import", "archive"],
        text: "\
The books are yours. Whoever runs the box takes them out of it there:
hobside export --db FILE --chat CHAT --format json
(or csv, or archive, which another box takes in).

Deleting is asked about first:
> delete me
> delete this household",
    },
    Topic {
        words: &["plan", "planning", "prep", "wish"],
        text: "\
A plan says what to cook until the next prep day, and why so much:
> plan
> plan until Friday for 3 people
> why this much barley?

It goes by what you eat, and by what you wish for:
> 4 dinners for 2: dal and barley
> no barley this week
> keep 800 g dal ready
> big pot holds 4 kg

Every week, by itself:
> prep day Sunday 10am

A pot as it was made last, and the order of work:
> dal again x1.5
> dal steps: soak 8 h, simmer 35 min on a burner
> prep sheet for 18:00",
    },
    Topic {
        words: &["shopping", "list", "cupboard"],
        text: "\
What the plan needs, or what you put there:
> shopping list for the plan
> put 2 kg onions on the list
> tick onions
> done shopping

What stands at home, how it is bought, what it costs:
> we have 2 kg flour in the cupboard
> always have salt
> keep 500 g oats at home
> red lentils come in 500 g bags
> red lentils cost 2.40 a kilo
> what does the dal cost",
    },
    Topic {
        words: &["timer", "reminder", "remind", "snooze"],
        text: "\
Several at once:
> timer 35 min dal
> remind me tomorrow at 8 to thaw the dal
> timers
> cancel timer 1",
    },
    Topic {
        words: &["note", "notice", "morning", "evening", "quiet", "away"],
        text: "\
What is due is told in the morning, what has to thaw in the evening:
> morning notes at 7:30
> no evening notes
> no prep day
> quiet hours 22:00 to 07:00

While you are away there is silence:
> away Thursday to Saturday",
    },
];
