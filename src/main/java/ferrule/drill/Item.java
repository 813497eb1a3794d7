package ferrule.drill;

import ferrule.drill.item.Interaction;
import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One question of a sitting. It says all that is needed to show it again exactly as it was; {@link ItemWords} says it in
 * words, {@link Pictures#asking} draws it.
 *
 * @param position its place in the sitting, from 1
 * @param kind what it asks for
 * @param key the part that is the right answer; where the answer is no part, the part that it is about
 * @param view the id of the view that is drawn; empty if nothing is drawn
 * @param variants the ids of the variants of the instrument that is drawn
 * @param pictureSeed what the order of the drawing's shapes is shuffled by
 * @param lit the part that is lit on the drawing, if one is
 * @param interaction how it is answered, with its stem and options
 */
public record Item(
    int position,
    ItemKind kind,
    ConceptId key,
    String view,
    Set<String> variants,
    long pictureSeed,
    Optional<ConceptId> lit,
    Interaction interaction) {

  /** Copies the set and checks the position, and that it is answered as its kind is. */
  public Item {
    variants = Set.copyOf(variants);
    if (position < 1) {
      throw new IllegalArgumentException("positions count from 1; given: " + position);
    }
    boolean fits =
        kind.isTyped() && interaction instanceof Interaction.TextEntry
            || kind.isPointed() && interaction instanceof Interaction.Hotspot
            || kind.isChosen() && interaction instanceof Interaction.Choice
            || kind.isOrdered() && interaction instanceof Interaction.Ordering;
    if (!fits) {
      throw new IllegalArgumentException("an item of kind " + kind.word() + " is not answered so: " + interaction);
    }
  }

  /** An item that asks for the name or the place of a part; throws for a kind that asks for anything else. */
  public Item(int position, ItemKind kind, ConceptId key, String view, Set<String> variants, long pictureSeed) {
    this(
        position,
        kind,
        key,
        view,
        variants,
        pictureSeed,
        kind == ItemKind.NAME ? Optional.of(key) : Optional.empty(),
        kind == ItemKind.NAME ? new Interaction.TextEntry("", List.of()) : new Interaction.Hotspot(""));
  }

  /** The same question at another place, with the drawing's shapes in another order. */
  public Item at(int place, long seed) {
    return new Item(place, kind, key, view, variants, seed, lit, interaction);
  }

  /** Whether a drawing belongs to the question. */
  public boolean isDrawn() {
    return !view.isEmpty();
  }

  /** The options, where one is to be chosen. */
  public Optional<Interaction.Choice> choice() {
    return interaction instanceof Interaction.Choice c ? Optional.of(c) : Optional.empty();
  }

  /** The steps, where they are to be put in order. */
  public Optional<Interaction.Ordering> ordering() {
    return interaction instanceof Interaction.Ordering o ? Optional.of(o) : Optional.empty();
  }
}
