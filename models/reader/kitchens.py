"""Invented formulas that the writing sheets play in, so that no wording is tied to the formulas that come with the program.

One a line: id | name | makes | piece | oven (C, or -) | tin (or -) | ingredients | steps.
An ingredient: id=name amount[~other name,...]; a step: title>uses[>timer,minutes,look].
"""

LINES = """
oat-loaf|Oat and honey loaf|10|loaf|210|loaf 23 x 13 x 7 cm|flour=strong white flour 450 g~white flour,bread flour;oats=rolled oats 80 g~oats;yeast=instant yeast 6 g;salt=fine salt 9 g~table salt;honey=honey 30 g;milk=whole milk 200 g~milk;water=water 160 g|Soak the oats>oats,milk>soak,20,;Mix>flour,yeast,salt,honey,water;Knead>>kneading,10,Is the dough smooth?;First rise>>first rise,75,Has the dough doubled?;Shape>;Second rise>>second rise,40,Does the dough stand above the rim?;Bake>>bake,35,Is it golden brown and hollow underneath?;Cool>>cooling,60,
rye-sourdough|Dark rye sourdough|14|loaf|230|-|rye=rye flour 350 g~dark rye;flour=strong white flour 250 g~white flour;starter=sourdough starter 150 g~starter,levain;salt=sea salt 12 g;water=water 420 g;caraway=caraway seeds 8 g~caraway|Feed the starter>starter>feeding,240,Is the starter bubbling?;Mix the dough>rye,flour,water;Rest>>rest,30,;Add the salt and seeds>salt,caraway;Bulk rise>>bulk rise,180,Has the dough risen by half?;Shape>;Prove>>prove,90,Does a dent come back slowly?;Bake>>bake,45,Is the crust dark and crisp?
tear-loaf|Rosemary tear loaf|8|slab|220|rectangle 33 x 23 x 5 cm|flour=strong white flour 500 g~bread flour;yeast=fresh yeast 12 g;salt=fine salt 10 g;water=warm water 400 g~water;oil=olive oil 60 g~oil;rosemary=fresh rosemary 5 g~rosemary;flakes=salt flakes 4 g~sea salt flakes|Mix>flour,yeast,salt,water;Stretch and fold>>folds,30,;Rise>oil>rise,90,Is it full of bubbles?;Dimple>rosemary,flakes;Second rise>>second rise,30,Is it puffy?;Bake>>rosemary loaf,22,Is it golden on top?
bagels|Malted bagels|8|bagel|220|-|flour=strong white flour 500 g;malt=barley malt extract 20 g~malt;yeast=instant yeast 5 g;salt=fine salt 9 g;water=water 280 g;poppy=poppy seeds 15 g|Mix and knead>flour,malt,yeast,salt,water>kneading,12,;Rise>>rise,60,Has the dough doubled?;Shape the rings>>rings,15,;Boil>>bagels,2,;Top>poppy;Bake>>bake,20,Are they shiny brown?
bridge-rolls|Soft bridge rolls|10|roll|220|-|flour=strong white flour 400 g~white flour;whole=wholemeal flour 100 g~wholemeal;yeast=instant yeast 7 g;salt=fine salt 8 g;sugar=caster sugar 5 g~sugar;water=water 320 g;oil=olive oil 20 g|Mix>flour,whole,yeast,salt,sugar,water,oil;Rise>>rise,60,Has the dough doubled?;Divide and roll>>balls,10,;Bake>>bridge rolls,4,Have they puffed up?;Wrap>
brioche|Small brioches|12|brioche|180|-|flour=strong white flour 500 g;butter=unsalted butter 250 g~butter;eggs=eggs 5 eggs~egg;sugar=caster sugar 60 g~sugar;yeast=fresh yeast 15 g~yeast;salt=fine salt 9 g;milk=whole milk 60 g~milk|Mix the base>flour,eggs,sugar,yeast,salt,milk;Knead in the butter>butter>kneading,15,Is it silky?;First rise>>first rise,90,Has it doubled?;Chill>>chilling,480,;Shape>;Prove>>prove,120,Are they wobbly?;Bake>>brioches,18,Are they deep gold?
scones|Plain scones|9|scone|220|-|flour=self-raising flour 350 g~self raising flour;butter=cold butter 85 g~butter;sugar=caster sugar 45 g~sugar;milk=buttermilk 175 g;egg=egg 1 egg;salt=fine salt 2 g|Rub in>flour,butter,salt;Make the dough>sugar,milk,egg;Rest>>rest,10,;Cut out>;Bake>>scones,13,Have they risen and browned?
victoria|Jam sponge|10|cake|180|round 20 x 5 cm|butter=soft butter 225 g~butter;sugar=caster sugar 225 g~sugar;eggs=eggs 4 eggs~egg;flour=self-raising flour 225 g;powder=baking powder 4 g;milk=milk 30 g;jam=raspberry jam 150 g~jam|Cream the butter and sugar>butter,sugar>beating,5,Is it pale and fluffy?;Beat in the eggs>eggs;Fold in the flour>flour,powder,milk;Fill the tins>;Bake>>cake,25,Does it spring back?;Cool>>cooling,45,;Fill>jam
carrot-cake|Carrot and walnut cake|12|cake|170|square 23 x 5 cm|flour=plain flour 250 g;bicarb=bicarbonate of soda 5 g~bicarb,baking soda;cinnamon=ground cinnamon 6 g~cinnamon;oil=sunflower oil 200 g~oil;sugar=brown sugar 220 g~sugar;eggs=eggs 4 eggs;carrots=grated carrots 300 g~carrot;walnuts=walnuts 100 g;cheese=cream cheese 200 g|Weigh the dry things>flour,bicarb,cinnamon;Whisk the wet things>oil,sugar,eggs;Fold together>carrots,walnuts;Bake>>bake,40,Does a skewer come out clean?;Cool>>cooling,60,;Frost>cheese
brownies|Dark brownies|16|square|170|square 20 x 4 cm|chocolate=dark chocolate 200 g~chocolate;butter=unsalted butter 175 g~butter;sugar=muscovado sugar 300 g~sugar;eggs=eggs 3 eggs;flour=plain flour 90 g;cocoa=cocoa powder 40 g~cocoa;salt=sea salt 3 g;pecans=pecans 80 g|Melt>chocolate,butter>melting,6,;Whisk>sugar,eggs;Fold>flour,cocoa,salt,pecans;Bake>>brownies,26,Is it set at the edge and soft in the middle?;Cool in the tin>>cooling,90,
gingerbread|Sticky gingerbread|12|slab|160|rectangle 30 x 20 x 5 cm|treacle=black treacle 150 g~treacle;syrup=golden syrup 100 g~syrup;butter=butter 150 g;sugar=dark brown sugar 120 g;flour=plain flour 300 g;ginger=ground ginger 10 g~ginger;bicarb=bicarbonate of soda 6 g~bicarb;milk=milk 200 g;egg=egg 1 egg|Warm the treacle>treacle,syrup,butter,sugar>warming,5,;Mix the dry things>flour,ginger,bicarb;Mix together>milk,egg;Bake>>gingerbread,50,Does it spring back?;Cool>>cooling,60,
oat-biscuits|Oat biscuits|20|biscuit|180|-|butter=butter 120 g;sugar=soft brown sugar 100 g~sugar;syrup=golden syrup 40 g~syrup;oats=porridge oats 150 g~oats;flour=plain flour 120 g;bicarb=bicarbonate of soda 3 g|Melt the butter>butter,sugar,syrup>melting,4,;Stir in the oats>oats,flour,bicarb;Roll balls>;Bake>>biscuits,12,Are the edges golden?;Cool>>cooling,15,
lemon-tart|Lemon tart|8|tart|190|round 23 x 3 cm|flour=plain flour 200 g;butter=cold butter 110 g~butter;icing=icing sugar 60 g;yolks=egg yolks 30 g~yolk;lemons=lemon juice 120 g~lemon,juice;sugar=caster sugar 180 g;eggs=eggs 4 eggs;cream=double cream 150 g~cream|Make the pastry>flour,butter,icing,yolks;Chill>>chilling,30,;Line the tin>;Blind bake>>blind bake,18,Is the case dry and pale gold?;Mix the filling>lemons,sugar,eggs,cream;Bake>>tart,30,Does only the middle wobble?;Cool>>cooling,60,
apple-pie|Apple pie|8|pie|200|round 24 x 4 cm|flour=plain flour 300 g;butter=butter 150 g;lard=lard 50 g;water=cold water 60 g~water;apples=cooking apples 900 g~apple;sugar=caster sugar 120 g~sugar;cloves=ground cloves 1 g;cornflour=cornflour 15 g|Make the pastry>flour,butter,lard,water;Chill the pastry>>chilling,30,;Cut the apples>apples,sugar,cloves,cornflour;Fill the pie>;Bake>>pie,45,Is the top deep gold and bubbling?;Rest>>resting,20,
quiche|Leek and cheese quiche|6|quiche|190|round 25 x 3 cm|flour=plain flour 180 g;butter=butter 90 g;leeks=leeks 400 g~leek;cheese=mature cheddar 150 g~cheese,cheddar;eggs=eggs 4 eggs~egg;cream=single cream 250 g~cream;nutmeg=nutmeg 1 g;salt=salt 4 g|Make the pastry>flour,butter;Rest the pastry>>rest,25,;Sweat the leeks>leeks,salt>leeks,12,Are the leeks soft?;Blind bake>>blind bake,15,;Fill>cheese,eggs,cream,nutmeg;Bake>>quiche,30,Is it just set?
beef-stew|Beef and barley stew|6|bowl|150|-|beef=stewing beef 800 g~meat;flour=plain flour 30 g;oil=vegetable oil 30 g~oil;onions=onions 300 g~onion;carrots=carrots 400 g~carrot;barley=pearl barley 120 g~barley;stock=beef stock 1200 g~stock;thyme=thyme 3 g;salt=salt 8 g|Cut and flour the beef>beef,flour;Brown the meat>oil>browning,8,Is it brown all over?;Soften the onions>onions>onions,10,Are they soft?;Add the rest>carrots,barley,stock,thyme,salt;Braise>>stew,120,Is the beef tender?;Season and serve>
chicken-pie|Chicken and mushroom pie|6|pie|200|rectangle 28 x 20 x 5 cm|chicken=chicken thighs 700 g~chicken;mushrooms=mushrooms 250 g;butter=butter 50 g;flour=plain flour 45 g;milk=milk 400 g;stock=chicken stock 200 g~stock;tarragon=tarragon 5 g;pastry=puff pastry 320 g~pastry;egg=egg 1 egg|Cook the chicken>chicken>chicken,20,Is there no pink left?;Make the sauce>butter,flour,milk,stock>sauce,6,Does it coat the spoon?;Mix the filling>mushrooms,tarragon;Cover>pastry,egg;Bake>>pie,30,Is the pastry risen and brown?;Stand>>stand,10,
roast-chicken|Roast chicken with roots|5|plate|200|-|chicken=whole chicken 1800 g~bird;butter=butter 60 g;lemon=lemon 100 g;potatoes=potatoes 1200 g~spuds,potato;parsnips=parsnips 500 g~parsnip;carrots=carrots 400 g;salt=sea salt 12 g~salt;thyme=thyme 4 g;stock=chicken stock 500 g|Dress the bird>chicken,butter,lemon,salt,thyme;Cut the roots>potatoes,parsnips,carrots;Roast>>chicken,90,Do the juices run clear?;Roast the roots>>roots,45,Are they brown and crisp?;Rest the bird>>resting,20,;Make the gravy>stock>gravy,10,
lamb-curry|Lamb and potato curry|6|portion|-|-|lamb=lamb shoulder 900 g~lamb;onions=onions 350 g~onion;garlic=garlic 20 g;ginger=fresh ginger 25 g~ginger;cumin=ground cumin 6 g~cumin;turmeric=turmeric 3 g;chilli=chilli powder 4 g~chilli;tomatoes=tomatoes 400 g~tomato;yoghurt=yoghurt 200 g;potatoes=potatoes 500 g~potato,aloo;salt=salt 10 g|Marinate>lamb,yoghurt>marinade,60,;Brown the onions>onions>onions,15,Are they brown?;Fry the spices>garlic,ginger,cumin,turmeric,chilli>spices,3,;Add tomatoes and lamb>tomatoes,salt;Simmer>>curry,50,Is the lamb tender?;Add the potatoes>potatoes>potatoes,20,Are the potatoes soft?
dal|Red lentil dal|4|bowl|-|-|lentils=red lentils 250 g~lentil,dal;water=water 1000 g;turmeric=turmeric 3 g~haldi;salt=salt 7 g;ghee=ghee 40 g;cumin=cumin seeds 5 g~jeera;garlic=garlic 15 g;tomatoes=tomatoes 200 g~tomato;coriander=fresh coriander 15 g~coriander|Wash and soak>lentils>soaking,20,;Boil>water,turmeric,salt>lentils,25,Are the lentils soft?;Make the tempering>ghee,cumin,garlic>tempering,2,;Add tomatoes>tomatoes>tomatoes,6,;Finish>coriander
jollof|Party jollof rice|10|plate|-|-|rice=long grain rice 800 g~rice;tomatoes=plum tomatoes 600 g~tomato;peppers=red peppers 300 g~tatashe,pepper;scotch=scotch bonnet 10 g~ata rodo;onions=onions 250 g~onion;oil=vegetable oil 120 g~oil;paste=tomato paste 100 g;stock=chicken stock 900 g~stock;curry=curry powder 6 g;thyme=dried thyme 4 g~thyme;salt=salt 12 g|Blend the peppers>tomatoes,peppers,scotch;Boil it down>>pepper mix,15,Has the water gone?;Fry the paste>oil,onions,paste>paste,8,;Add stock and spices>stock,curry,thyme,salt;Cook the rice>rice>rice,30,Is the rice soft?;Steam>>steam,10,
tomato-soup|Roast tomato soup|4|bowl|200|-|tomatoes=tomatoes 1200 g~tomato;onions=red onions 200 g~onion;garlic=garlic cloves 20 g~garlic;oil=olive oil 40 g~oil;stock=vegetable stock 500 g~stock;basil=basil 10 g;cream=cream 60 g;salt=salt 6 g|Roast>tomatoes,onions,garlic,oil>roasting,40,Are the edges dark?;Simmer>stock,salt>soup,15,;Blend>basil;Finish>cream
leek-soup|Leek and potato soup|6|bowl|-|-|leeks=leeks 500 g~leek;potatoes=potatoes 400 g~potato;butter=butter 40 g;stock=vegetable stock 1100 g~stock;cream=single cream 100 g~cream;salt=salt 8 g;pepper=white pepper 1 g~pepper|Sweat the leeks>butter,leeks>leeks,10,Are the leeks soft?;Add potatoes and stock>potatoes,stock,salt;Simmer>>soup,20,Are the potatoes soft?;Blend>>;Finish>cream,pepper
strawberry-jam|Strawberry jam|5|jar|-|-|strawberries=strawberries 1000 g~berries,strawberry;sugar=jam sugar 900 g~sugar;lemon=lemon juice 40 g~lemon;butter=butter 10 g|Macerate>strawberries,sugar>macerating,120,;Warm gently>lemon>warming,10,Has the sugar dissolved?;Boil>>jam,8,Does it wrinkle on a cold plate?;Skim>butter;Stand>>standing,15,;Pot>
chutney|Plum chutney|6|jar|-|-|plums=plums 1000 g~plum;onions=onions 300 g~onion;vinegar=malt vinegar 450 g~vinegar;sugar=brown sugar 350 g~sugar;raisins=raisins 150 g;mustard=mustard seeds 8 g~mustard;ginger=ground ginger 4 g~ginger;salt=salt 10 g|Stone the plums>plums;Put it all in>onions,vinegar,sugar,raisins,mustard,ginger,salt;Boil gently>>chutney,90,Does a spoon leave a trail?;Warm the jars>>jars,15,;Pot>
pancakes|Buttermilk pancakes|12|pancake|-|-|flour=plain flour 240 g;sugar=sugar 25 g;powder=baking powder 8 g;bicarb=baking soda 3 g;buttermilk=buttermilk 450 g;eggs=eggs 2 eggs;butter=melted butter 50 g~butter;salt=salt 3 g|Whisk the dry things>flour,sugar,powder,bicarb,salt;Mix the batter>buttermilk,eggs,butter;Rest>>rest,10,;Fry>>pancakes,3,Are there bubbles on top?;Keep warm>
paella|Seafood rice|6|plate|-|-|rice=short grain rice 450 g~rice;prawns=prawns 300 g;mussels=mussels 400 g;squid=squid 250 g;pepper=red pepper 200 g;tomatoes=grated tomato 200 g~tomato;stock=fish stock 1200 g~stock;saffron=saffron 1 g;oil=olive oil 80 g~oil;salt=salt 9 g|Fry the seafood>oil,prawns,squid>seafood,5,;Make the base>pepper,tomatoes>base,12,Is it thick and dark?;Add the stock>stock,saffron,salt;Add the rice>rice>rice,18,Is the rice nearly dry?;Add the mussels>mussels>mussels,5,Have they opened?;Rest>>rest,5,
lasagne|Lasagne|8|portion|190|rectangle 33 x 23 x 5 cm|mince=minced beef 500 g~mince;onion=onion 150 g;tomatoes=chopped tomatoes 800 g~tomato;pasta=lasagne sheets 250 g~pasta,sheets;milk=milk 700 g;butter=butter 60 g;flour=plain flour 60 g;parmesan=parmesan 80 g~cheese;salt=salt 7 g|Brown the mince>mince,onion>mince,10,Is it brown?;Simmer the sauce>tomatoes,salt>sauce,40,Is it thick?;Make the white sauce>butter,flour,milk>white sauce,8,Does it coat the spoon?;Layer>pasta,parmesan;Bake>>lasagne,40,Is it bubbling and brown?;Stand>>standing,10,
shepherds-pie|Cottage pie|6|portion|200|rectangle 28 x 20 x 5 cm|mince=minced beef 700 g~mince,meat;onions=onions 200 g~onion;carrots=carrots 200 g~carrot;stock=beef stock 400 g~stock;potatoes=floury potatoes 1200 g~potatoes,potato,spuds;butter=butter 70 g;milk=milk 100 g;salt=salt 8 g|Brown the mince>mince,onions,carrots>mince,12,;Simmer>stock,salt>filling,30,Has it thickened?;Boil the potatoes>potatoes>potatoes,18,Are they soft?;Mash>butter,milk;Top and bake>>pie,30,Is the top crisp?
custard|Baked custard|6|pot|150|-|milk=whole milk 500 g~milk;cream=double cream 150 g~cream;yolks=egg yolks 100 g~yolk;eggs=eggs 2 eggs;sugar=caster sugar 80 g~sugar;vanilla=vanilla extract 5 g~vanilla;nutmeg=nutmeg 1 g|Warm the milk>milk,cream,vanilla>milk,5,Is it steaming?;Whisk>yolks,eggs,sugar;Strain>nutmeg;Bake in water>>custard,45,Is there only a slight wobble?;Cool>>cooling,40,
meringue|Meringue nests|8|nest|110|-|whites=egg whites 120 g~white;sugar=caster sugar 240 g~sugar;cornflour=cornflour 8 g;vinegar=white vinegar 4 g~vinegar;cream=whipping cream 300 g~cream;berries=mixed berries 250 g~berries|Whisk the whites>whites>whisking,6,Do they stand in peaks?;Whisk in the sugar>sugar;Fold>cornflour,vinegar;Pipe>;Bake>>meringues,75,Are they dry and crisp?;Cool in the oven>>cooling,60,;Fill>cream,berries
granola|Nut granola|12|bowl|150|-|oats=jumbo oats 400 g~oats;almonds=almonds 120 g~nuts;seeds=pumpkin seeds 80 g~seeds;coconut=desiccated coconut 50 g~coconut;honey=honey 120 g;oil=coconut oil 60 g~oil;cinnamon=cinnamon 5 g;apricots=dried apricots 120 g~apricot|Mix the dry things>oats,almonds,seeds,coconut,cinnamon;Warm the honey>honey,oil>warming,3,;Bake>>granola,30,Is it evenly brown?;Cool>>cooling,40,;Add the fruit>apricots
christmas-pudding|Steamed fruit pudding|10|pudding|-|-|suet=suet 150 g;crumbs=breadcrumbs 120 g~crumbs;flour=self-raising flour 100 g;sugar=dark muscovado sugar 180 g~sugar;raisins=raisins 250 g;currants=currants 200 g;eggs=eggs 3 eggs;stout=stout 150 g~beer;spice=mixed spice 6 g~spice|Weigh the fruit>raisins,currants,stout>soaking,120,;Mix>suet,crumbs,flour,sugar,spice,eggs;Fill the basin>;Steam>>pudding,360,Is it firm and dark?;Cool>>cooling,60,
cheese-plait|Cheese and onion plait|6|plait|250|-|flour=strong white flour 600 g;yeast=instant yeast 3 g;salt=fine salt 14 g;water=water 400 g;oil=olive oil 20 g~oil;passata=passata 300 g~tomato;mozzarella=mozzarella 300 g~cheese;basil=basil 8 g|Mix>flour,yeast,salt,water,oil;Knead>>kneading,8,;Rise>>rise,120,Has it doubled?;Ball up>>balls,30,;Stretch>;Top>passata,mozzarella,basil;Bake>>cheese plait,8,Is the rim charred and the cheese bubbling?
"""


class Ingredient:
    def __init__(self, text):
        self.id, rest = text.split("=", 1)
        rest, _, also = rest.partition("~")
        words = rest.split(" ")
        self.name, self.amount, self.unit = " ".join(words[:-2]), float(words[-2]), words[-1]
        self.also = [a for a in also.split(",") if a]


class Step:
    def __init__(self, text):
        parts = text.split(">")
        self.title = parts[0]
        self.uses = [u for u in parts[1].split(",") if u] if len(parts) > 1 else []
        self.timer = None
        if len(parts) > 2 and parts[2]:
            name, minutes, look = parts[2].split(",", 2)
            self.timer = (name, int(minutes), look or None)


class Formula:
    def __init__(self, line):
        self.id, self.name, portions, self.piece, oven, tin, ingredients, steps = line.split("|")
        self.portions = int(portions)
        self.oven = None if oven == "-" else int(oven)
        self.tin = None if tin == "-" else tin
        self.ingredients = [Ingredient(i) for i in ingredients.split(";")]
        self.steps = [Step(s) for s in steps.split(";")]
        self.timers = [(at, *s.timer) for at, s in enumerate(self.steps) if s.timer]
        self.is_bread = any("rise" in t[1] or t[1] in ("prove",) for t in self.timers)

    def ingredient(self, id):
        return next(i for i in self.ingredients if i.id == id)

    def toml(self):
        out = [f'name = "{self.name}"', 'about = "An invented formula for the reader\'s corpus."', "", "[makes]",
               f"portions = {self.portions}", f"pieces = {self.portions}", f'piece = "{self.piece}"', "loss_percent = 10"]
        if self.tin:
            shape, size = self.tin.split(" ", 1)
            out += ["", "[tin]", f'shape = "{shape}"', f'size = "{size}"']
        if self.oven:
            out += ["", "[oven]", f'heat = "{self.oven} C"', 'lead = "20 min"']
        for i in self.ingredients:
            unit = "" if i.unit in ("egg", "eggs") else f" {i.unit}"
            out += ["", "[[ingredient]]", f'id = "{i.id}"', f'name = "{i.name}"', f'amount = "{i.amount:g}{unit or " eggs"}"']
            if i.also:
                out.append("also = [" + ", ".join(f'"{a}"' for a in i.also) + "]")
        for s in self.steps:
            out += ["", "[[step]]", f'title = "{s.title}"', f'text = "{s.title}."', "hands_on = \"5 min\""]
            if s.uses:
                out.append("uses = [" + ", ".join(f'"{u}"' for u in s.uses) + "]")
            if len(s.uses) > 1:
                out.append("weigh_up = true")
            if s.timer:
                name, minutes, look = s.timer
                out += ["", "[[step.timer]]", f'name = "{name}"', f'lasts = "{minutes} min"']
                if look:
                    out.append(f'look = "{look}"')
        return "\n".join(out) + "\n"


FORMULAS = [Formula(line) for line in LINES.strip().split("\n")]
