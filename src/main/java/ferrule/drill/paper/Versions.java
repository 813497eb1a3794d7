package ferrule.drill.paper;

import ferrule.drill.Item;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.random.RandomGenerator;

/**
 * Arranges the versions of a worksheet.
 *
 * <p>Every version asks the same, so that their points compare. Items that share a drawing stand together, and on it the
 * numbers run round the drawing, so that they are found; each version begins at another place of the round, or goes the
 * other way, and has its drawings, its other questions and their options in another order. The same items and seed give
 * the same versions.
 */
final class Versions {

  /** Which items stand together; without a drawing, {@code view} is empty. */
  record Place(Style style, String view, Set<String> variants) {}

  /** The order in which labels go round a drawing. */
  interface Round {

    /** These parts of a view in the order in which they are met round the drawing. */
    List<ConceptId> round(String view, Set<String> variants, List<ConceptId> parts);
  }

  private final Round round;

  Versions(Round round) {
    this.round = round;
  }

  /**
   * The versions.
   *
   * @param count from 1 to {@value Worksheet#MOST_VERSIONS}
   */
  List<Version> of(List<Item> items, int count, long seed) {
    Map<Place, List<Item>> sections = new LinkedHashMap<>();
    items.forEach(i -> sections.computeIfAbsent(place(i), p -> new ArrayList<>()).add(i));
    sections.replaceAll((place, those) -> place.style().isDrawn() ? inTheRound(place, those) : those);
    List<Version> versions = new ArrayList<>();
    SplittableRandom random = new SplittableRandom(seed);
    int turn = random.nextInt(items.size());
    for (int v = 0; v < count; v++) {
      versions.add(version(String.valueOf((char) ('A' + v)), sections, v, turn, random.split()));
    }
    return versions;
  }

  static Place place(Item item) {
    Style style = Style.of(item);
    return style.isDrawn() ? new Place(style, item.view(), item.variants()) : new Place(style, "", Set.of());
  }

  private List<Item> inTheRound(Place place, List<Item> items) {
    List<ConceptId> order =
        round.round(place.view(), place.variants(), items.stream().map(Item::key).toList());
    List<Item> sorted = new ArrayList<>(items);
    sorted.sort((a, b) -> Integer.compare(order.indexOf(a.key()), order.indexOf(b.key())));
    return sorted;
  }

  private static Version version(
      String letter, Map<Place, List<Item>> sections, int v, int turn, RandomGenerator random) {
    List<Place> places = new ArrayList<>(sections.keySet());
    shuffle(places, random);
    places.sort((a, b) -> a.style().compareTo(b.style())); // stable: like with like, shuffled within
    List<Item> numbered = new ArrayList<>();
    for (Place place : places) {
      for (Item item : turned(sections.get(place), v, turn)) {
        numbered.add(shuffled(item, random).at(numbered.size() + 1, item.pictureSeed()));
      }
    }
    return new Version(letter, numbered);
  }

  /** The round from another place for each version, every second version the other way. */
  private static List<Item> turned(List<Item> items, int v, int turn) {
    List<Item> order = new ArrayList<>(items);
    int versionsApart = Math.max(1, items.size() / Worksheet.MOST_VERSIONS);
    Collections.rotate(order, -(turn + v * versionsApart) % items.size());
    if (v % 2 == 1) {
      Collections.reverse(order);
    }
    return order;
  }

  private static Item shuffled(Item item, RandomGenerator random) {
    if (item.choice().isEmpty()) {
      return item;
    }
    Interaction.Choice choice = item.choice().get();
    List<Option> options = new ArrayList<>(choice.options());
    shuffle(options, random);
    return new Item(
        item.position(), item.kind(), item.key(), item.view(), item.variants(), item.pictureSeed(), item.lit(),
        new Interaction.Choice(choice.stem(), choice.given(), options));
  }

  private static void shuffle(List<?> list, RandomGenerator random) {
    for (int i = list.size() - 1; i > 0; i--) {
      Collections.swap(list, i, random.nextInt(i + 1));
    }
  }
}
