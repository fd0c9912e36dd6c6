"""A second, slow and plain reading of the rules, to hold the project's engine against.

`model.simulate` and `model.rushed` are what tests call, `specs` and `specs_orders` draw random
cells. It is written from the rules alone and knows nothing of the engine.

Where the rules may be read in more than one way, this is how they are read here:

- Two turns that did end at the same second, one of them begun on one of `nights`: pieces are begun.
- Real orders are of part number 0, as the rush order is, and of just the pieces they name.
- Good pieces of real and rush orders too come into the stock of the operation after them.
- An order of a later number may be opened before the one before it, where the fixtures for that
  one are all held and time allows it.
- A machine starves where none of its pallets is loaded, is being visited or waits for a release,
  nothing may be taken on any of them, and something could but for a fixture. Whether it starves is
  asked without regard to other machines that starve. Every number of an order that it could so
  take counts, once for the machine. A fixture on its way to another pallet is held there.
- Stock is asked of e(Q) alone: where it does not cover that one's load, a later order of Q with a
  smaller one is not taken in its place.
- A pallet that lacks a fixture and stock at once is in the state `no_stock`. What it lacks is asked
  of what would be taken first of each part, fixtures apart, and of what has arrived.
- A part that needs a setup or a prove-out that nobody may do is not made on those machines where
  it takes time. With a tool life it needs "tools"; every part needs "load".
- An interrupted visit with a setup in it still needs somebody who may do "setup".
- `first_piece` is a state while the cell is attended, whether or not the release gets on.
- An operation whose `weekly` is 0 counts as made, so that what comes after it is: from the stock
  at the start and from what real and rush orders bring.
- Tools wear by part, for all its numbers together.
- The most fixtures held at once are those of the whole run, warm-up too: without them it had gone
  otherwise. A pallet being set up anew holds the old one and the new one.
- A free stretch counts whole from the second on in which it is half an hour long.
- Setters stay: who is on a break or whose shift ends at the second at which he would be free does
  not stand by; nor does he for a prove-out that was begun before and interrupted. He stands by for
  it over a stop of its machine too, and over whatever else is asked for but stops.
- A load goes in at once where it does so by the end of the second at which he would be free.
- Scatter: seconds of a visit and of its bench work are multiplied each for itself and then rounded.
"""
