"""What a cook can mean, each with ways to describe the intention without giving wording away.

A meaning is a function of a scene: it may set the scene (a timer that runs, a question that waits), and gives back
ways to describe what the cook wants, and the orders in the form that `commis understand` prints.
"""

MEANINGS = []


def meaning(weight=1.0, topic=""):
    def lay(f):
        MEANINGS.append((f.__name__, weight, topic, f))
        return f
    return lay


def o(intent, **slots):
    slots = {k: v for k, v in slots.items() if v is not None}
    return {"intent": intent, "slots": slots} if slots else {"intent": intent}


def ask(question, **slots):
    return o("ask", question=question, **slots)


MIN = 60_000


def minutes(n):
    """Plain description of a length."""
    if n < 1:
        return f"{round(n * 60)} seconds"
    if n % 60 == 0 and n >= 60:
        h = n // 60
        return "1 hour" if h == 1 else f"{h} hours"
    if n > 60:
        return f"{n // 60} h {n % 60} min"
    return "1 minute" if n == 1 else f"{n} minutes"


# ---- moving -----------------------------------------------------------------------------------------------------

def simple(name, weight, topic, wants, order=None, scene=None):
    def f(s):
        if scene:
            scene(s)
        return wants, [order or o(name)]
    f.__name__ = name
    MEANINGS.append((name, weight, topic, f))


simple("next", 3, "moving", ["to move on to the next step", "the work of this step is finished; on to the following one", "to be taken forward one step", "wants to get going with what follows", "is ready to go on"])
simple("back", 1.5, "moving", ["to return to the step before", "moved on too early; wants the previous step", "one step backwards"])
simple("repeat", 2.5, "moving", ["to hear the last thing said once more", "did not catch what was just said", "the last answer again, it was drowned by noise", "forgot the number that was just said"], o("repeat", slowly=False), lambda s: s.said())
simple("repeat_slowly", 1, "moving", ["the last thing again, and slowly", "it was said too fast; once more at a slower pace"], o("repeat", slowly=True), lambda s: s.said())
simple("spell", 0.3, "moving", ["to have the name in the last answer spelt out by letters", "to hear the last word letter by letter"], None, lambda s: s.said())
simple("where_am_i", 1.5, "moving", ["lost the thread; which step is it", "to know how far along the formula things are", "came back after an interruption and does not know the place"])
simple("what_next", 1.5, "moving", ["to know what the following step will be, without going there yet", "curious what happens after this one", "to prepare for the coming step: what is it"])
simple("steps_left", 1, "moving", ["to know how many steps remain", "is it nearly over: count of steps to go"])
simple("read_ingredients", 1, "moving", ["to hear the whole list of ingredients", "what all is needed for this dish", "to gather everything from the cupboard: read the list"])
simple("read_step", 2, "moving", ["to hear the whole present step", "what exactly is to be done now", "the full instruction for this step, with its warnings"])
simple("step_names", 0.6, "moving", ["to hear the names of all the steps", "an overview: what the steps are called, in order"])


@meaning(1, "moving")
def repeat_last(s):
    n = s.pick([2, 3, 4])
    s.said()
    return [f"the last {n} things that were said, once more", f"missed a lot: repeat the latest {n} answers"], [o("repeat_last", count=n)]


@meaning(1.2, "moving")
def go_to_step(s):
    n = s.other_step()
    return [f"to jump to step number {n + 1}", f"go to step {n + 1}, whatever lies between"], [o("go_to_step", step=n + 1)]


@meaning(2, "moving")
def go_to_step_by_name(s):
    n = s.other_step()
    t = s.f.steps[n].title
    return [f"to go to the step named '{t}'", f"jump to where this is done: {t.lower()}", f"skip the rest; wants to be at '{t}'"], [o("go_to_step", step=n + 1)]


@meaning(1.2, "moving")
def tell_step(s):
    n = s.other_step()
    t = s.f.steps[n].title
    return [f"to hear what step {n + 1} says, but stay at the present step", f"what is done in '{t}' (step {n + 1}); without moving there"], [o("tell_step", step=n + 1)]


@meaning(1.2, "oven")
def oven_heat(s):
    s.need(lambda f: f.oven)
    return ["which temperature the oven must have", "the heat to set on the oven dial"], [o("oven_heat")]


@meaning(1.2, "oven")
def when_light_oven(s):
    s.need(lambda f: f.oven)
    return ["when to switch the oven on", "is it time to heat the oven yet, or when", "at what moment the oven should be lit"], [o("when_light_oven")]


@meaning(1, "oven")
def oven_lit(s):
    s.need(lambda f: f.oven)
    return ["tells the helper that the oven has just been switched on", "the oven is lit and heating now; to be noted"], [o("oven_lit")]


@meaning(1, "oven")
def oven_hot(s):
    s.need(lambda f: f.oven)
    return ["tells the helper that the oven has reached its heat", "the oven light went off: it is up to temperature"], [o("oven_hot")]


# ---- weighing ---------------------------------------------------------------------------------------------------

simple("weigh_next", 2, "weighing", ["what goes on the scale now", "which ingredient comes next", "what to put in after this one"], None, lambda s: s.weighing())
simple("done", 2.5, "weighing", ["the thing asked for is in", "has weighed in what was asked", "that one is finished, it is in the bowl"], None, lambda s: s.weighing())
simple("left_to_add", 1.5, "weighing", ["what has not gone in yet", "is anything still missing from the bowl", "which ingredients remain to be put in"])
simple("what_is_in", 1.2, "weighing", ["which ingredients are in already", "to hear a list of everything put in so far"])


@meaning(2, "weighing")
def have_added(s):
    i = s.ing()
    return [f"unsure whether the {i.name} went in", f"wants to know if {i.name} is in the bowl already"], [o("have_added", ingredient=i.id)]


@meaning(3, "weighing")
def mark_added(s):
    s.maybe_weighing()
    i = s.ing()
    return [f"tells that the {i.name} is in", f"has put in the {i.name}; tick it off"], [o("mark_added", ingredient=i.id)]


@meaning(2.5, "weighing")
def mark_several(s):
    s.maybe_weighing()
    a, b, *c = s.ings(s.pick([2, 2, 3]))
    names = ", ".join(x.name for x in [a, b, *c])
    return [f"tells that these are all in: {names}", f"several went in at once ({names}); tick them off"], [o("mark_added", ingredient=x.id) for x in [a, b, *c]]


@meaning(1.2, "weighing")
def mark_step(s):
    s.weighing()
    return ["everything this step asks for has gone in; tick all of it", "all the ingredients of this step are in the bowl"], [o("mark_step")]


@meaning(1.5, "weighing")
def unmark_added(s):
    i = s.ing()
    return [f"the {i.name} has not gone in after all", f"was wrong: {i.name} is still outside, untick it"], [o("unmark_added", ingredient=i.id)]


@meaning(1.5, "weighing")
def put_in(s):
    i = s.ing(lambda i: i.unit == "g" and i.amount > 3)
    g = max(1, round(i.amount * s.pick([0.8, 0.9, 1.1, 1.2, 1.5])))
    g = g if g < 40 else round(g / 10) * 10
    return [f"tells how much {i.name} really went in: {g} g (not the planned {i.amount:g} g)", f"the scale shows {g} grams of {i.name} gone in; to be remembered"], [o("put_in", ingredient=i.id, mass=float(g))]


# ---- amounts ----------------------------------------------------------------------------------------------------

@meaning(4, "amounts")
def how_much(s):
    i = s.ing()
    return [f"the amount of {i.name}", f"how much {i.name} today's size needs", f"has forgotten the weight of {i.name}"], [o("how_much", ingredient=i.id)]


@meaning(1, "amounts")
def how_much_part(s):
    i = s.ing(lambda i: i.unit == "g")
    p, w = s.pick([(0.5, "half"), (0.25, "a quarter"), (1 / 3, "a third"), (0.75, "three quarters")])
    return [f"what {w} of the {i.name} comes to", f"only {w} of the {i.name} goes in now: how much is that"], [o("how_much", ingredient=i.id, part=p)]


UNITS = {"oz": "ounces", "tsp": "teaspoons", "tbsp": "tablespoons", "cup": "cups", "g": "grams", "ml": "millilitres", "lb": "pounds"}


@meaning(1.5, "amounts")
def how_much_unit(s):
    i = s.ing(lambda i: i.unit == "g")
    u = s.pick(["tsp", "tbsp"] if i.amount < 40 else ["oz", "cup", "tbsp", "oz"])
    return [f"the amount of {i.name}, in {UNITS[u]}", f"has only a measure in {UNITS[u]}: how much {i.name}"], [o("how_much", ingredient=i.id, unit=u)]


@meaning(1, "amounts")
def contains(s):
    w = s.pick(["milk", "nuts", "eggs", "gluten", "soya", "celery", "sesame", "mustard", "fish", "lactose", "peanuts", "wheat"])
    return [f"whether this dish contains {w}", f"a guest cannot have {w}: is any in it"], [o("contains", what=w)]


simple("allergens", 0.8, "amounts", ["which allergens the dish contains", "what in it could be a problem for people with allergies"])


@meaning(0.6, "amounts")
def hydration(s):
    s.need(lambda f: f.is_bread)
    return ["the hydration of this dough", "baker's percentages of the dough"], [o("hydration")]


simple("todays_size", 1, "size", ["how much this makes as it is set today", "for how many people it is set at present", "what is being made and in what size"])


# ---- size -------------------------------------------------------------------------------------------------------

@meaning(1.5, "size")
def scale_factor(s):
    x, w = s.pick([(2.0, "double"), (0.5, "half"), (1.5, "one and a half times"), (3.0, "three times"), (0.75, "three quarters of")])
    return [f"to make {w} the quantity written", f"size: {w} of the formula"], [o("scale", by={"factor": x})]


@meaning(1.5, "size")
def scale_portions(s):
    n = s.pick([2, 3, 4, 5, 7, 8, 10, 12, 15, 20])
    return [f"to make enough for {n} people", f"{n} are coming to eat: set the size", f"size for {n} portions"], [o("scale", by={"portions": float(n)})]


@meaning(1, "size")
def as_written(s):
    return ["back to the size as written", "forget the changed size; the formula's own quantities"], [o("scale", by="as_written")]


@meaning(0.6, "size")
def scale_flour(s):
    s.need(lambda f: f.is_bread)
    g = s.pick([300, 400, 600, 750, 800, 1000])
    return [f"size so that the flour in all is {g} g", f"has decided on {g} grams of flour for the whole dough"], [o("scale", by={"flour": float(g)})]


@meaning(0.6, "size")
def scale_dough(s):
    s.need(lambda f: f.is_bread)
    g = s.pick([800, 1000, 1200, 1500, 2000])
    return [f"size so that the dough in all weighs {g} g"], [o("scale", by={"dough": float(g)})]


@meaning(0.6, "size")
def scale_pieces(s):
    s.need(lambda f: f.is_bread)
    n, g = s.pick([4, 6, 8, 12]), s.pick([80, 90, 100, 250, 400])
    return [f"size for {n} pieces of dough of {g} g each"], [o("scale", by={"pieces": {"count": float(n), "each": float(g)}})]


@meaning(1.2, "size")
def scale_limit(s):
    i = s.ing(lambda i: i.unit == "g" and i.amount > 60)
    g = round(i.amount * s.pick([0.5, 0.6, 0.75, 0.8]) / 10) * 10
    return [f"has no more than {g} g of {i.name}: make the size fit that", f"only {g} grams of {i.name} in the house; cut everything to match"], [o("scale", by={"limit": {"ingredient": i.id, "have": float(g)}})]


@meaning(1, "size")
def scale_tin(s):
    s.need(lambda f: f.tin)
    shape = s.pick(["round", "square", "rectangle"])
    if shape == "rectangle":
        a, b = s.pick([(20, 30), (25, 35), (18, 28), (22, 32)])
        return [f"own tin is {a} by {b} cm: size for that", f"size for a tin of {a} x {b} cm"], [o("scale", by={"tin": {"shape": shape, "size_cm": [float(a), float(b)]}})]
    n = s.pick([16, 18, 20, 22, 24, 26, 28])
    return [f"own tin is {shape}, {n} cm: size for that", f"has a {shape} {n} centimetre tin only"], [o("scale", by={"tin": {"shape": shape, "size_cm": [float(n)]}})]


@meaning(0.6, "size")
def ask_tin(s):
    s.need(lambda f: f.tin)
    return ["which tin this is meant for", "what size of tin to take out of the cupboard"], [o("ask_tin")]


@meaning(0.4, "size")
def scale_hydration(s):
    s.need(lambda f: f.is_bread)
    p = s.pick([62, 65, 68, 70, 72, 75, 80])
    return [f"a dough of {p} percent hydration instead", f"change the water so that hydration is {p} %"], [o("scale", by={"hydration": float(p)})]


# ---- timers -----------------------------------------------------------------------------------------------------

@meaning(2.5, "timers")
def start_timer(s):
    n = s.dur()
    return [f"a timer of {minutes(n)}", f"to be told when {minutes(n)} are over", f"count down {minutes(n)} from now"], [o("start_timer", lasts=int(n * MIN))]


@meaning(2.5, "timers")
def start_timer_named(s):
    n, name = s.dur(), s.own_name()
    return [f"a timer of {minutes(n)} for the {name}", f"count {minutes(n)} for: {name}", f"a new timer, named {name}, {minutes(n)}"], [o("start_timer", lasts=int(n * MIN), name=name)]


@meaning(1, "timers")
def start_timer_formula(s):
    at, name, lasts, look = s.pick(s.f.timers)
    return [f"to start the formula's timer for '{name}' now", f"set the {name} going"], [o("start_timer", name=name)]


@meaning(1, "timers")
def start_timer_formula_other(s):
    at, name, lasts, look = s.pick(s.f.timers)
    n = s.pick([x for x in (5, 10, 15, 20, 25, 30, 40, 50, 90) if x != lasts])
    return [f"to start the {name} timer, but with {minutes(n)} in place of {minutes(lasts)}"], [o("start_timer", name=name, lasts=n * MIN)]


@meaning(1, "timers")
def start_timer_with_cue(s):
    n, name = s.pick([20, 30, 40, 45, 60]), s.own_name()
    m = s.pick([5, 10, 15])
    do = s.pick(["turn it", "stir", "look at it", "take the lid off", "baste"])
    if s.rng.random() < 0.5:
        return [f"a timer of {minutes(n)} for the {name}, and to be told with {m} minutes to go: {do}"], [o("start_timer", lasts=n * MIN, name=name), o("add_cue", say=do, left=m * MIN)]
    return [f"a timer of {minutes(n)} for the {name}, and after the first {m} minutes a call to {do}"], [o("start_timer", lasts=n * MIN, name=name), o("add_cue", say=do, at=m * MIN)]


simple("start_timer_bare", 0.6, "timers", ["a timer, without telling its length yet"], o("start_timer"))
simple("start_offered", 1.5, "timers", ["to start the timer that this step offers", "it is in; the step's timer should run now"], None, lambda s: s.offered())


@meaning(1.5, "timers")
def time_left(s):
    s.timers(1)
    return ["how much time remains", "how long still to wait", "when does the running timer end, as minutes from now"], [o("time_left")]


@meaning(3, "timers")
def time_left_named(s):
    t = s.timers(s.pick([1, 2, 2, 3]))
    return [f"how long the {t} still has", f"time remaining on the {t}", f"how many more minutes for the {t}"], [o("time_left", timer=t)]


@meaning(1, "timers")
def list_timers(s):
    s.timers(s.pick([2, 3]))
    return ["which timers run at present, and how they stand"], [o("time_left")]


@meaning(1.5, "timers")
def time_gone(s):
    t = s.timers(s.pick([1, 2]))
    return [f"how long the {t} has been going already", f"time gone by since the {t} was started"], [o("time_gone", timer=t)]


@meaning(1.5, "timers")
def ready_when(s):
    t = s.timers(s.pick([1, 2]))
    return [f"at what time of the day the {t} will be ready", f"clock time when the {t} ends"], [o("ready_when", timer=t)]


@meaning(1.5, "timers")
def add_time(s):
    s.timers(1)
    n = s.pick([1, 2, 3, 5, 10, 15, 20])
    return [f"{minutes(n)} more on the timer", f"the running timer should go on {minutes(n)} longer"], [o("add_time", by=n * MIN)]


@meaning(2.5, "timers")
def add_time_named(s):
    t = s.timers(s.pick([1, 2, 2]))
    n = s.pick([1, 2, 3, 5, 10, 15, 20, 30])
    return [f"{minutes(n)} more for the {t}", f"the {t} is to be {minutes(n)} longer", f"lengthen the {t} by {minutes(n)}"], [o("add_time", by=n * MIN, timer=t)]


@meaning(1.5, "timers")
def take_time(s):
    t = s.timers(s.pick([1, 2]))
    n = s.pick([1, 2, 3, 5, 10])
    return [f"{minutes(n)} less on the {t}", f"the {t} should end {minutes(n)} sooner", f"shorten the {t} by {minutes(n)}"], [o("take_time", by=n * MIN, timer=t)]


@meaning(1.2, "timers")
def pause_timer(s):
    t = s.timers(s.pick([1, 2]))
    return [f"to hold the {t} timer still for now", f"the {t} was taken off the heat for a moment; its timer should wait"], [o("pause_timer", timer=t)]


@meaning(1, "timers")
def resume_timer(s):
    t = s.timers(s.pick([1, 2]), paused=True)
    return [f"to let the held {t} timer run on", f"back on the heat: the {t} timer can go on"], [o("resume_timer", timer=t)]


@meaning(0.8, "timers")
def restart_timer(s):
    t = s.timers(s.pick([1, 2]))
    return [f"to begin the {t} timer again from its full length", f"the {t} has to start from the beginning"], [o("restart_timer", timer=t)]


@meaning(1.5, "timers")
def add_cue(s):
    t = s.timers(1)
    do = s.pick(["turn the tin", "stir", "baste the bird", "look at it", "take the lid off", "swap the trays", "add the herbs"])
    n = s.pick([2, 5, 10])
    if s.rng.random() < 0.7:
        return [f"to be told to {do} when the {t} has {n} minutes left", f"with {n} minutes to go on the {t}: a call to {do}"], [o("add_cue", say=do, left=n * MIN, timer=t)]
    return [f"to be told to {do} when the {t} has run for {n} minutes"], [o("add_cue", say=do, at=n * MIN, timer=t)]


@meaning(0.5, "timers")
def rename_timer(s):
    t = s.timers(1)
    n = s.own_name()
    return [f"the {t} timer should be called {n} from now on"], [o("rename_timer", timer=t, name=n)]


@meaning(1.5, "timers")
def stop_timer(s):
    t = s.timers(s.pick([1, 2]))
    return [f"to end the {t} timer for good, it is not needed", f"the {t} is out already; drop its timer"], [o("stop_timer", timer=t)]


@meaning(0.5, "timers")
def stop_all_timers(s):
    s.timers(s.pick([2, 3]))
    return ["to end every running timer", "no timer is needed any more"], [o("stop_all_timers")]


@meaning(2.5, "alarms")
def stop_chime(s):
    s.ringing()
    return ["the alarm should stop ringing; it was heard", "has heard it and is coming; silence the bell"], [o("stop_chime")]


@meaning(1.5, "alarms")
def ringing_more(s):
    t = s.ringing()
    n = s.pick([2, 3, 5, 10])
    return [f"not ready: {minutes(n)} more for the {t} that rings", f"the {t} rings, but it needs another {minutes(n)}"], [o("add_time", by=n * MIN, timer=t)]


@meaning(1.5, "timers")
def remind_in(s):
    n = s.pick([5, 10, 15, 20, 30, 45])
    do = s.pick(REMINDERS)
    return [f"to be reminded in {minutes(n)}: {do}", f"in {minutes(n)} someone should tell the cook to {do}"], [o("remind", text=do, **{"in": n * MIN})]


@meaning(1.2, "timers")
def remind_at(s):
    h, m, words = s.pick(CLOCKS)
    do = s.pick(REMINDERS)
    return [f"to be reminded at {words}: {do}"], [o("remind", text=do, at={"hour": h, "minute": m, "half": "unsaid"})]


REMINDERS = ["stir the soup", "call the school", "take the washing in", "feed the cat", "take the butter out of the fridge", "check the potatoes",
             "turn the heat down", "put the plates in to warm", "ring my sister", "water the beans", "take my tablets", "let the dog out"]
CLOCKS = [(4, 0, "4:00"), (5, 30, "5:30"), (3, 45, "3:45"), (6, 15, "6:15"), (11, 30, "11:30"), (2, 20, "2:20"), (7, 0, "7:00"), (12, 45, "12:45"), (8, 10, "8:10")]


# ---- the clock --------------------------------------------------------------------------------------------------

@meaning(1, "clock")
def next_on_clock(s):
    s.timers(s.pick([1, 2, 3]))
    return ["what the next thing is that the clock will bring", "which timer or task comes up soonest"], [o("next_on_clock")]


simple("tell_time", 1, "clock", ["what time it is"])


@meaning(1.2, "clock")
def eat_at(s):
    h, m, words = s.pick(CLOCKS)
    return [f"wants to eat at {words}; plan for that", f"the food should be on the table at {words}"], [o("eat_at", at={"hour": h, "minute": m, "half": "unsaid"})]


simple("when_start", 0.8, "clock", ["at what time to begin in order to be ready as planned"])
simple("am_i_late", 1, "clock", ["whether the work is behind the plan", "will it still be ready on time"])
simple("how_long_in_all", 1.2, "clock", ["how long the whole thing takes from start to finish", "how much time the dish will need in all"])


@meaning(1.2, "clock")
def needs_longer(s):
    if s.rng.random() < 0.5:
        s.look()
    else:
        s.timers(1)
    if s.rng.random() < 0.5:
        n = s.pick([5, 10, 15, 20, 30])
        return [f"it is not there yet: needs about {minutes(n)} longer"], [o("needs_longer", by=n * MIN)]
    return ["it needs longer (does not say how long)"], [o("needs_longer")]


@meaning(1.2, "clock")
def how_to_tell(s):
    if s.rng.random() < 0.5:
        s.timers(1)
    return ["by what sign to know that it is ready", "what it should look or feel like when done"], [o("how_to_tell")]


# ---- answers ----------------------------------------------------------------------------------------------------

@meaning(4, "answers")
def look_yes(s):
    q = s.look()
    return ["answers yes to the question", "it is so, ready", "describes what is seen, and it means yes"], [o("yes")]


@meaning(4, "answers")
def look_not_yet(s):
    q = s.look()
    return ["answers not yet", "describes what is seen, and it means it is not there yet", "not ready (gives no time)"], [o("not_yet")]


@meaning(2.5, "answers")
def look_more(s):
    q = s.look()
    n = s.pick([5, 10, 15, 20, 30])
    return [f"answers with {minutes(n)} more", f"not ready, {minutes(n)} more will do"], [o("needs_longer", by=n * MIN)]


@meaning(2.5, "answers")
def confirm_yes(s):
    s.confirm()
    return ["answers yes, do it", "agrees"], [o("yes")]


@meaning(2.5, "answers")
def confirm_no(s):
    s.confirm()
    return ["answers no, leave it", "does not want that after all"], [o("no")]


@meaning(2.5, "answers")
def which_answer(s):
    a, b = s.which()
    x = s.pick([a, b])
    name = s.f.ingredient(x["slots"]["ingredient"]).name
    return [f"answers: the {name}", f"means the {name}", f"picks the {'first' if x is a else 'second'} of the two ({name})"], [x]


@meaning(1.5, "answers")
def how_long_answer(s):
    n = s.dur()
    name = s.how_long()
    return [f"answers: {minutes(n)}", f"tells the length: {minutes(n)}"], [o("start_timer", lasts=int(n * MIN), name=name)]


@meaning(1, "answers")
def unfinished(s):
    s.look()
    return ["begins to answer, breaks off, and has not said yes or no (write only the broken-off beginning)"], "talk"


# ---- voice and session ------------------------------------------------------------------------------------------

simple("louder", 1, "voice", ["the voice should be louder", "cannot hear it over the extractor fan"])
simple("quieter", 1, "voice", ["the voice should be softer, someone sleeps", "it speaks too loudly"])
simple("slower", 0.8, "voice", ["the voice should speak more slowly from now on"])
simple("faster", 0.6, "voice", ["the voice should speak faster, it drags"])
simple("higher", 0.2, "voice", ["a higher pitch of voice"])
simple("lower", 0.3, "voice", ["a deeper pitch of voice"])
simple("briefer", 0.8, "voice", ["it talks too much; fewer words from now on"])
simple("fuller", 0.6, "voice", ["more detail in what it says from now on"])
simple("stop_talking", 2, "voice", ["it should be silent at once; it is reading something long", "enough has been heard; stop speaking"], None, lambda s: s.reading())
simple("hang_on", 2, "voice", ["it should wait a moment; the cook is called away", "one moment: be quiet and leave the timers running", "not ready for more just now"], None, lambda s: s.maybe_reading())
simple("stop_listening", 1, "session", ["it should stop acting on speech until told otherwise", "a long telephone call comes: do not listen for a while"])
simple("start_listening", 1, "session", ["it may listen again now"], None, lambda s: s.asleep())
simple("what_heard", 0.6, "session", ["what it believes it heard just now"])
simple("troubles", 0.6, "session", ["whether it is working and hearing at all", "is anything wrong with the machine"])
simple("help", 0.8, "session", ["what one can say to it here", "does not know how to talk to it; what are the possibilities"])
simple("explain_chimes", 0.4, "session", ["what the different bells and tones mean"])
simple("goodbye", 0.8, "session", ["is finished with cooking; end the session", "everything is done; it can close"])
simple("burn_help", 1, "safety", ["has just burnt a finger or arm a little; what to do", "hot fat or steam got the hand; needs advice at once"])


# ---- taking back ------------------------------------------------------------------------------------------------

@meaning(2, "corrections")
def undo(s):
    what = s.did()
    return [f"that was wrong ({what}): take the last thing back", "take back what was just done", "was misheard; it should be as before"], [o("undo")]


@meaning(2, "corrections")
def correct_time(s):
    was, n, name = s.did_timer()
    return [f"meant {minutes(n)}, not {minutes(was)}", f"the timer just set is wrong: it should be {minutes(n)}"], [o("undo"), o("start_timer", lasts=n * MIN, name=name)]


@meaning(1.2, "corrections")
def correct_ingredient(s):
    a, b = s.did_mark()
    return [f"it was the {b.name} that went in, not the {a.name}"], [o("undo"), o("mark_added", ingredient=b.id)]


@meaning(1, "corrections")
def correct_portions(s):
    was, n = s.did_portions()
    return [f"meant {n} people, not {was}"], [o("undo"), o("scale", by={"portions": float(n)})]


@meaning(1, "corrections")
def correct_asked(s):
    a, b = s.did_ask()
    return [f"was asking about the {b.name}, not the {a.name}"], [o("how_much", ingredient=b.id)]


# ---- fragments --------------------------------------------------------------------------------------------------

@meaning(3, "fragments")
def fragment_amount(s):
    a, b = s.did_ask()
    return [f"the same question, now about the {b.name} (as short as one would say it)"], [o("how_much", ingredient=b.id)]


@meaning(1.2, "fragments")
def fragment_unit(s):
    a, u = s.did_ask_unit()
    return [f"the same amount, but in {UNITS[u]} (only a few words)"], [o("how_much", ingredient=a.id, unit=u)]


@meaning(1.2, "fragments")
def fragment_added(s):
    a, b = s.did_have()
    return [f"asks the same about the {b.name} (only a few words)"], [o("have_added", ingredient=b.id)]


@meaning(1.5, "fragments")
def fragment_timer(s):
    t = s.did_left()
    return [f"the same question for the {t} (only a few words)"], [o("time_left", timer=t)]


@meaning(1, "fragments")
def fragment_more(s):
    t, n = s.did_add()
    return [f"another {minutes(n)} on top of that"], [o("add_time", by=n * MIN, timer=t)]


# ---- several in one breath --------------------------------------------------------------------------------------

@meaning(2, "several")
def mark_and_next(s):
    s.weighing()
    i = s.ing()
    return [f"the {i.name} is in, and what is next on the scale (both in one breath)"], [o("mark_added", ingredient=i.id), o("weigh_next")]


@meaning(1.5, "several")
def mark_two_and_next(s):
    s.weighing()
    a, b = s.ings(2)
    return [f"{a.name} and {b.name} are in; what comes next (all in one breath)"], [o("mark_added", ingredient=a.id), o("mark_added", ingredient=b.id), o("weigh_next")]


@meaning(1, "several")
def next_and_timer(s):
    n = s.dur()
    return [f"on to the next step, and a timer of {minutes(n)} as well (one breath)"], [o("next"), o("start_timer", lasts=int(n * MIN))]


@meaning(1, "several")
def two_amounts(s):
    a, b = s.ings(2)
    return [f"how much {a.name} and how much {b.name} (one breath)"], [o("how_much", ingredient=a.id), o("how_much", ingredient=b.id)]


@meaning(1, "several")
def mark_and_amount(s):
    a, b = s.ings(2)
    return [f"the {a.name} is in; and how much {b.name} (one breath)"], [o("mark_added", ingredient=a.id), o("how_much", ingredient=b.id)]


@meaning(1, "several")
def two_timers(s):
    a, b = s.dur(), s.dur()
    x, y = s.own_names(2)
    return [f"two timers: {minutes(a)} for the {x}, and {minutes(b)} for the {y}"], [o("start_timer", lasts=int(a * MIN), name=x), o("start_timer", lasts=int(b * MIN), name=y)]


@meaning(1, "several")
def chime_and_more(s):
    t = s.ringing()
    n = s.pick([2, 5, 10])
    return [f"silence the bell, and {minutes(n)} more for the {t} (one breath)"], [o("stop_chime"), o("add_time", by=n * MIN, timer=t)]


@meaning(0.8, "several")
def stop_and_start(s):
    t = s.timers(1)
    n, name = s.dur(), s.own_name()
    return [f"end the {t} timer, and set {minutes(n)} for the {name} (one breath)"], [o("stop_timer", timer=t), o("start_timer", lasts=int(n * MIN), name=name)]


@meaning(0.8, "several")
def yes_and_next(s):
    s.look()
    return ["answers yes, and wants the next step right away (one breath)"], [o("yes"), o("next")]


# ---- the arithmetic ---------------------------------------------------------------------------------------------

THINGS = ["plain flour", "caster sugar", "butter", "honey", "rice", "cocoa powder", "milk", "oats", "salt", "olive oil"]


@meaning(2.5, "sums")
def convert(s):
    i, (n, a, b) = s.pick(THINGS), s.pick([(2, "cup", "g"), (1, "cup", "g"), (0.5, "cup", "g"), (3, "tbsp", "g"), (250, "g", "cup"), (100, "g", "tbsp"), (2, "tsp", "g")])
    return [f"how many {UNITS[b]} {n:g} {UNITS[a] if n > 1 else UNITS[a].rstrip('s')} of {i} are"], [ask("convert", number=float(n), **{"from": a, "to": b}, ingredient=i)]


@meaning(1.5, "sums")
def convert_plain(s):
    n, a, b = s.pick([(12, "oz", "g"), (8, "oz", "g"), (2, "lb", "g"), (500, "g", "oz"), (250, "ml", "cup"), (3, "tsp", "tbsp"), (1, "cup", "ml"), (4, "oz", "g")])
    return [f"what {n} {UNITS[a] if n > 1 else UNITS[a].rstrip('s')} come to in {UNITS[b]}"], [ask("convert", number=float(n), **{"from": a, "to": b})]


@meaning(1.5, "sums")
def convert_temperature(s):
    n, a, b = s.pick([(350, "f", "c"), (400, "f", "c"), (180, "c", "f"), (220, "c", "f"), (200, "c", "gas"), (6, "gas", "c"), (4, "gas", "c"), (180, "c", "fan"), (425, "f", "gas")])
    names = {"c": "Celsius", "f": "Fahrenheit", "gas": "gas mark", "fan": "fan oven"}
    return [f"{names[a]} {n}: what is that in {names[b]}", f"translate an oven heat: {n} {names[a]} into {names[b]}"], [ask("convert_temperature", number=float(n), **{"from": a, "to": b})]


@meaning(1.5, "sums")
def swap(s):
    w = s.pick(["butter", "egg", "buttermilk", "self-raising flour", "milk", "caster sugar", "baking powder", "cream", "honey", "yoghurt"])
    return [f"what can stand in for {w}", f"no {w} in the house: what else would do"], [ask("swap", of=w)]


@meaning(1.2, "sums")
def swap_with(s):
    a, b = s.pick([("butter", "olive oil"), ("instant yeast", "fresh yeast"), ("caster sugar", "honey"), ("milk", "oat milk"), ("sunflower oil", "butter"), ("active dried yeast", "instant yeast"), ("cream", "yoghurt")])
    return [f"whether {b} will do in place of {a}, and how much", f"has {b} but no {a}"], [ask("swap", of=a, **{"with": b})]


@meaning(0.6, "sums")
def water_for_flour(s):
    g, p = s.pick([500, 600, 750, 900]), s.pick([62, 65, 68, 70, 72])
    return [f"how much water {g} g of flour need at {p} percent"], [ask("water_for_flour", flour_g=float(g), percent=float(p))]


@meaning(0.6, "sums")
def percent_of(s):
    g, p = s.pick([500, 600, 750, 900]), s.pick([2, 1.8, 10, 20, 30])
    return [f"what {p} percent of {g} g is"], [ask("percent_of", percent=float(p), grams=float(g))]


@meaning(0.8, "sums")
def water_temperature(s):
    s.need(lambda f: f.is_bread)
    return ["how warm the water for the dough should be"], [ask("water_temperature")]


@meaning(0.8, "sums")
def rise_at(s):
    s.need(lambda f: f.is_bread)
    c = s.pick([15, 16, 17, 18, 19, 24, 26, 28])
    return [f"how long the dough will take to rise in a kitchen of {c} degrees"], [ask("rise_at", room_c=float(c))]


@meaning(1.2, "safety")
def safe_temperature(s):
    w = s.pick(["chicken", "pork", "beef mince", "salmon", "turkey", "lamb", "sausages", "fish", "leftovers"])
    return [f"how hot {w} must be inside to be safe", f"which core temperature to look for in {w}"], [ask("safe_temperature", food=w)]


@meaning(0.4, "safety")
def safe_time(s):
    c = s.pick([60, 62, 63, 65, 68])
    return [f"how long food must stay at {c} degrees inside to be as safe as at 70"], [ask("safe_time", core_c=float(c))]


@meaning(1, "safety")
def keep(s):
    how, w = s.pick([("out", "how long the food may stand out at room temperature"), ("hot", "how hot food has to be held till it is served"), ("cold", "how cold it must be kept in the fridge"), ("cool", "how to cool a big pot down safely, and how fast")])
    return [w], [ask("keep", how=how)]


@meaning(0.8, "safety")
def caution(s):
    a, w = s.pick([("honey", "is honey all right for a baby"), ("garlic-oil", "whether home-made garlic oil keeps safely"), ("raw-flour", "is it all right to taste the raw dough")])
    return [f"{w}"], [ask("caution", about=a)]


@meaning(0.6, "sums")
def mass_of(s):
    n, w = s.pick([(1, "egg"), (1, "clove of garlic"), (1, "onion"), (3, "eggs"), (1, "lemon"), (2, "carrots")])
    return [f"what {n} {w} weigh{'s' if n == 1 else ''}"], [ask("mass_of", number=float(n), ingredient=w)]


@meaning(0.4, "sums")
def pieces_from(s):
    d, e = s.pick([1000, 1500, 2000]), s.pick([80, 90, 95, 110])
    return [f"how many rolls of {e} g come out of {d} g of dough"], [ask("pieces_from", dough_g=float(d), each_g=float(e))]


@meaning(0.3, "sums")
def percent_is(s):
    a, b = s.pick([(360, 600), (340, 500), (12, 600)])
    return [f"what percentage {a} g is of {b} g"], [ask("percent_is", part_g=float(a), whole_g=float(b))]


@meaning(0.3, "sums")
def preferment(s):
    k, p = s.pick(["poolish", "biga", "sponge", "levain"]), s.pick([20, 30, 40, 50])
    s.need(lambda f: f.is_bread)
    return [f"how to split off a {k} with {p} percent of the flour"], [ask("preferment", kind=k, percent=float(p))]


@meaning(0.4, "sums")
def baked_mass(s):
    s.need(lambda f: f.is_bread)
    return ["what the bread will weigh once it is baked"], [ask("baked_mass")]


@meaning(0.3, "sums")
def dough_for(s):
    g = s.pick([500, 800, 1000])
    s.need(lambda f: f.is_bread)
    return [f"how much dough gives a baked loaf of {g} g"], [ask("dough_for", baked_g=float(g))]


@meaning(0.2, "sums")
def friction(s):
    s.need(lambda f: f.is_bread)
    a, b, c, d = s.pick([(27, 20, 22, 30), (26, 19, 21, 28), (25, 21, 20, 27)])
    return [f"the mixer's friction: dough came out at {a} degrees, flour {b}, room {c}, water {d}"], [ask("friction", dough_c=float(a), flour_c=float(b), room_c=float(c), water_c=float(d))]


# ---- within a kitchen's life, but cannot be done ---------------------------------------------------------------

WISHES = ["to have something bought or put on a shopping list", "another dish: a formula for something quite different", "music or the radio", "the weather", "to send a message to someone",
          "the lights in the kitchen", "to hear what was noted the last time this was made", "the nutrition: calories in a portion", "another language to be spoken",
          "to set the oven's dial by itself", "the scale to be set to nought by the helper", "a drink to go with the dish", "whether a food that smells odd can still be eaten",
          "a photograph to be taken", "to telephone someone", "why the dough failed the last time", "to be told a joke", "to know who else is at home",
          "the dish made without an ingredient entirely, and how that will taste", "prices of ingredients", "to have a new note kept with this formula", "what to cook tomorrow"]


@meaning(5, "wishes")
def wish(s):
    return [s.pick(WISHES)], "wish"


# ---- talk -------------------------------------------------------------------------------------------------------

TALK = [
    ("a child stands beside and asks things", ["tells the child what to do with a spoon", "tells the child to stop something", "explains to the child what happens in the oven", "asks the child how much of something is wanted on the plate", "tells the child to wait ten minutes"]),
    ("on the telephone with a friend", ["tells the friend what is being cooked, with amounts", "arranges a time to meet", "listens and answers shortly", "explains how long the dish takes", "says to hold on while looking for something"]),
    ("the partner comes in", ["asks the partner to fetch an ingredient", "answers when dinner will be", "complains about the day", "asks whether the partner has done some chore", "asks the partner to set the table and says for how many"]),
    ("the radio is on", ["(write what the radio says: news with numbers)", "(write what the radio says: a cookery programme with amounts and times)", "(write what the radio says: traffic or weather)", "(write what the radio says: a play or an interview)", "(write what the radio says: sport with a clock)"]),
    ("alone, muttering", ["scolds own clumsiness", "counts under the breath", "talks to the dough", "wonders aloud where some tool is", "reads a packet aloud", "hums and says scraps of a song"]),
    ("a helper in the kitchen works along", ["tells the other person to stir or turn something", "asks the other person how much is left of something", "tells the other person that something is hot", "tells the other person the next task", "thanks the other person"]),
    ("guests stand about with drinks", ["offers a drink", "tells an anecdote about a failed dish", "answers how it is made, with quantities", "asks who eats what", "says when it will be on the table"]),
    ("the cat or dog is underfoot", ["talks to the animal", "sends the animal out", "promises the animal food in some minutes"]),
    ("a neighbour at the door", ["says what smells so good", "offers some jam and says how to keep it", "says there is no time just now, something is in the oven"]),
    ("children play next door", ["(write what a child calls out in the game: with 'stop', 'go', 'next' or numbers)", "calls to the children that it is ready soon", "calls to the children to be quieter", "(write what a child asks its parent about food)"]),
    ("on the telephone with an office", ["spells a name or gives a number", "makes an appointment for a clock time", "complains politely", "says yes, no, and thanks"]),
    ("the television shows a cookery contest", ["(write what a contestant or judge says: with a time or amount)", "comments on what a contestant does wrong", "(write what the presenter says: minutes left)"]),
]


def talk(s):
    who, whats = s.pick(TALK)
    # Talk comes in every situation: while timers run, while something rings or a question waits.
    s.any_situation()
    s.beside = who
    return ["NOT to the helper: " + s.pick(whats)], "talk"
