"""What a cook says at the bench, as a grammar without recursion.

Training text is drawn from it (`sample`), and the strict test grammar is the same rules written as a word acceptor
(`acceptor`). A rule is a list of ways; `<name>` calls another rule, `[...]` may be left out, `3:` before a way makes it
three times as likely.
"""

import re

INGREDIENTS = """flour|bread flour|plain flour|strong flour|rye flour|wholemeal flour|self raising flour|water|warm water|salt|sea
salt|yeast|dry yeast|fresh yeast|sourdough starter|starter|sugar|brown sugar|caster sugar|icing sugar|butter|melted butter|olive
oil|sunflower oil|oil|milk|buttermilk|egg|eggs|egg yolk|egg whites|honey|maple syrup|golden syrup|treacle|molasses|cream|double
cream|sour cream|cheese|cheddar|parmesan|mozzarella|cream cheese|ricotta|yogurt|vinegar|lemon|lemon juice|lime|orange|orange
zest|apple|apples|banana|pear|peach|plums|cherries|strawberries|raspberries|blueberries|blackberries|mango|pineapple|grapes|raisins
|sultanas|currants|dates|figs|apricots|almonds|ground almonds|walnuts|pecans|hazelnuts|cashews|peanuts|peanut butter|chestnuts
|coconut|coconut milk|dark chocolate|chocolate|chocolate chips|cocoa|cocoa powder|coffee|tea|vanilla|vanilla extract|cinnamon
|nutmeg|ginger|cloves|cardamom|cumin|coriander|turmeric|paprika|pepper|black pepper|chilli|chili flakes|cayenne|oregano|thyme
|rosemary|sage|parsley|dill|mint|chives|tarragon|saffron|basil|bay leaves|mustard|ketchup|mayonnaise|soy sauce|garlic|onion|onions
|red onion|shallots|leeks|spring onions|scallions|carrots|celery|potatoes|sweet potato|tomatoes|tomato paste|cucumber|lettuce
|spinach|kale|cabbage|cauliflower|broccoli|peas|green beans|beans|lentils|chickpeas|corn|mushrooms|courgette|zucchini|aubergine
|eggplant|pumpkin|squash|radish|turnip|beetroot|asparagus|avocado|olives|capers|rice|pasta|noodles|spaghetti|breadcrumbs|oats
|rolled oats|oatmeal|barley|rye|wheat|spelt|semolina|polenta|cornstarch|cornflour|starch|baking powder|baking soda|bicarbonate
of soda|cream of tartar|gelatine|pectin|xanthan gum|malt|bran|sesame seeds|poppy seeds|sunflower seeds|pumpkin seeds|linseed
|jam|marmalade|stock|chicken stock|broth|gravy|wine|red wine|white wine|beer|brandy|rum|chicken|chicken breast|beef|minced
beef|pork|lamb|bacon|ham|sausage|turkey|duck|fish|salmon|tuna|cod|shrimp|prawns|crab|mussels|tofu|margarine|lard|shortening|ghee"""

ONES = "one two three four five six seven eight nine".split()
TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()

RULES = {
    "digit": ONES,
    "teen": TEENS,
    "ten": TENS,
    "sub": ["3:<digit>", "3:<teen>", "2:<ten>", "3:<ten> <digit>"],
    "hundreds": ["a hundred", "2:<digit> hundred", "<digit> hundred and <sub>", "2:<digit> hundred <ten>", "<digit> hundred <sub>"],
    "thousands": ["a thousand", "<digit> thousand", "<digit> thousand [and] <sub>", "<digit> thousand <hundreds>"],
    "decimal": ["<sub> point <digit>", "<sub> point <digit> <digit>", "zero point <digit>", "nought point <digit>"],
    "fraction": ["half", "a half", "a quarter", "three quarters", "a third", "two thirds", "one and a half", "<digit> and a half",
                 "<digit> and a quarter", "two and three quarters"],
    "number": ["6:<sub>", "3:<hundreds>", "<decimal>", "<fraction>", "0.4:<thousands>"],
    "count": ["4:<digit>", "2:<teen>", "<ten>", "<ten> <digit>"],
    "ingredient": [x.strip() for x in INGREDIENTS.replace("\n", " ").split("|")],
    "unit": "grams gram kilos kilo kilograms kilogram ounces ounce pounds pound millilitres litres litre millilitre pints pint quarts "
            "cups cup teaspoons teaspoon tablespoons tablespoon pinches sticks slices pieces handfuls cloves".split(),
    "units": "grams kilos kilograms ounces pounds millilitres litres pints cups teaspoons tablespoons".split(),
    "scale": ["celsius", "fahrenheit", "degrees", "degrees celsius", "degrees fahrenheit"],
    "time": ["4:minutes", "minute", "hours", "hour", "2:seconds"],
    "span": ["6:<number> <time>", "an hour", "half an hour", "a minute", "an hour and a half", "a quarter of an hour",
             "<digit> hours [and] <sub> minutes", "<digit> minutes [and] <ten> seconds", "an hour and <sub> minutes",
             "<digit> and a half <time>", "three quarters of an hour"],
    "clock": ["half past <hour>", "quarter past <hour>", "quarter to <hour>", "<hour> o clock", "<hour> <ten>", "<hour> thirty",
              "<ten> past <hour>", "<teen> to <hour>", "<hour> fifteen", "<hour> in the evening", "midday", "noon", "five past <hour>",
              "<hour> p m", "<hour> a m"],
    "hour": ONES + ["ten", "eleven", "twelve"],
    "thing": "oven|rice|pasta|bread|rise|first rise|second rise|final prove|prove|bake|dough|sauce|eggs|egg|tea|roast|soup|chicken|cake|pie|"
             "cookies|resting|chill|proof|buns|rolls|potatoes|gravy|pizza|stock|kitchen|meat|crust|custard|glaze|filling|loaf".split("|"),
    "step": ["<count>", "<digit>"],
    "move": ["4:next", "3:next step", "2:back", "go back", "previous", "previous step", "2:repeat", "again", "repeat that", "say that again",
             "again slower", "once more", "where am i", "which step am i on", "what is next", "what's next", "how many steps are left",
             "go on", "continue", "carry on", "go to step <step>", "step <step>", "jump to step <step>", "skip to step <step>",
             "skip this step", "go to the last step", "go to the first step", "start over", "begin", "finish", "read the ingredients",
             "read the whole step", "read the whole formula", "read step <step>", "what was that", "what do i do now"],
    "weigh": ["what do i weigh next", "3:done", "it's in", "that's in", "2:have i added the <ingredient>", "did i add the <ingredient>",
              "2:i have added the <ingredient>", "2:i've added the <ingredient>", "the <ingredient> is in", "what's left to add",
              "what is left to add", "what have i added", "take out the <ingredient>", "i forgot the <ingredient>", "tare", "zero the scale",
              "add the <ingredient>", "i have weighed the <ingredient>", "weigh the <ingredient>"],
    "ask": ["6:how much <ingredient>", "how much <ingredient> do i need", "how much <ingredient> is left", "how many <ingredient>",
            "2:how much is half the <ingredient>", "4:how many <units> in <number> <unit> of <ingredient>",
            "2:how many <units> are in <number> <unit>", "3:what is <number> <unit> in <units>",
            "2:what's <number> <unit> of <ingredient> in <units>", "2:what is <number> <scale> in <scale>",
            "convert <number> <unit> to <units>", "convert <number> <unit> of <ingredient> to <units>",
            "2:what can i use instead of <ingredient>", "how much <ingredient> instead", "can i use <ingredient> instead of <ingredient>",
            "swap the <ingredient> for <ingredient>", "i have no <ingredient>", "i don't have any <ingredient>", "is there <ingredient> in it",
            "is there any <ingredient> in this", "does it contain <ingredient>", "what temperature should the <ingredient> be",
            "what temperature should the <thing> be", "how hot should the oven be", "what temperature is the oven",
            "what is the hydration", "what is <number> <scale> in gas", "gas mark <digit>", "how long does it bake",
            "how long do i knead it", "how long is the <thing>", "what allergens are in it", "is it safe", "how big is the tin",
            "how many does it make", "why"],
    "rescale": ["make it <fraction>", "make it one and a half times", "2:scale it to <number>", "make <count>", "2:make it for <count>",
                "for <count> people", "make enough for <count>", "<count> pieces of <number> grams", "double it", "halve it", "triple it",
                "2:i only have <number> <unit> of <ingredient>", "i have <number> <unit> of <ingredient>", "for a <count> by <count> tin",
                "for a <count> centimetre tin", "for a <digit> inch tin", "back to the original", "use <number> <unit> of <ingredient>",
                "make <digit> batches", "times <number>", "half the recipe", "double the recipe"],
    "timer": ["6:start a timer for <span>", "4:set a timer for <span>", "timer for <span>", "2:start a <span> timer", "<span> timer",
              "3:<span> called <thing>", "set a <span> timer called <thing>", "2:start a timer for <span> called <thing>",
              "start the <thing>", "start the <thing> timer", "2:how long is left", "how much time is left",
              "how long is left on the <thing>", "how long for the <thing>", "3:add <span>", "2:add <span> to the <thing>",
              "take off <span>", "take <span> off the <thing>", "2:pause", "pause the <thing>", "pause the timer", "resume",
              "resume the <thing> timer", "2:stop the timer", "stop the <thing> timer", "stop the <thing>", "cancel the <thing> timer",
              "cancel the timer", "2:stop", "stop the chime", "stop the alarm", "which timers are running", "what timers are running",
              "delete the <thing> timer", "restart the timer", "restart the <thing>", "call it <thing>", "rename it <thing>",
              "remind me in <span>", "remind me in <span> to check the <thing>", "wake me in <span>", "check the <thing> in <span>"],
    "plan": ["2:i want to eat at <clock>", "it should be ready by <clock>", "serve at <clock>", "we eat at <clock>", "when do i start",
             "when must i start", "the <thing> needs longer", "the <thing> needs <span> more", "what is next on the clock",
             "what time will it be ready", "when is it ready", "am i late", "the oven is hot", "the oven is ready", "what time is it"],
    "voice": ["louder", "quieter", "slower", "faster", "stop talking", "stop listening", "goodbye", "quiet", "hush", "volume up",
              "volume down", "speak up", "start listening", "mute", "2:help", "what can i say", "2:undo", "undo that", "yes please",
              "2:yes", "2:no", "no thanks", "okay", "cancel", "never mind", "thank you", "good morning", "wake up", "save", "quit", "redo",
              "that's wrong", "correct", "right", "wrong", "confirm"],
    "name": ["commis", "chef", "kitchen", "computer", "baker"],
    "order": ["4:<move>", "4:<weigh>", "6:<ask>", "3:<rescale>", "7:<timer>", "2:<plan>", "2:<voice>"],
}


def parse(way):
    """(weight, [(optional, token), ...]) of a way."""
    weight, colon, rest = way.partition(":")
    if colon:
        way, weight = rest, float(weight)
    else:
        weight = 1.0
    items = []
    for token in re.findall(r"\[[^\]]*\]|\S+", way):
        optional = token[0] == "["
        for word in token.strip("[]").split():
            items.append((optional, word))
    return weight, items


PARSED = {name: [parse(w) for w in ways] for name, ways in RULES.items()}


def sample(rng, rule="order"):
    """One sentence, by chance."""
    ways = PARSED[rule]
    items = rng.choices(ways, [w for w, _ in ways])[0][1]
    out = []
    for optional, token in items:
        if optional and rng.random() < 0.5:
            continue
        out.append(sample(rng, token[1:-1]) if token[0] == "<" else token)
    return " ".join(out)


def words(rule=None):
    """Every word of the grammar."""
    return sorted({t for r, ways in PARSED.items() for _, items in ways for _, t in items if t[0] != "<"})


def acceptor(ident, unknown=None, unknown_cost=6.0, rule="order"):
    """Lines of OpenFst text for the grammar: ways cost the negative logarithm of their share.

    `ident` maps a word to its label; `unknown` is a label offered as a competing whole path.
    """
    import math
    lines, count = [], [1]

    def fresh():
        count[0] += 1
        return count[0] - 1

    def arc(a, b, label, cost=0.0):
        lines.append(f"{a} {b} {label} {label} {cost:.4f}")

    def build(name, start, end):
        ways = PARSED[name]
        total = sum(w for w, _ in ways)
        for weight, items in ways:
            cost, at = -math.log(weight / total), start
            for k, (optional, token) in enumerate(items):
                to = end if k == len(items) - 1 else fresh()
                if optional:
                    arc(at, to, 0, cost + 0.7)
                if token[0] == "<":
                    if cost:
                        mid = fresh()
                        arc(at, mid, 0, cost)
                        at = mid
                    build(token[1:-1], at, to)
                else:
                    arc(at, to, ident[token], cost)
                cost, at = 0.0, to

    end = fresh()
    build(rule, 0, end)
    if unknown is not None:
        arc(0, end, unknown, unknown_cost)
        arc(end, end, unknown, unknown_cost / 2)
    lines.append(f"{end} 0")
    return lines
