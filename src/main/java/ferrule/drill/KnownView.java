package ferrule.drill;

import ferrule.drill.known.Asking;
import ferrule.drill.known.Chance;
import ferrule.drill.known.Chooser;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.Standing;
import ferrule.drill.known.Trace;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/** What an apprentice or a class knows, as a drawing and in words. */
final class KnownView {

  private static final int TO_PRACTISE = 10;

  private final KnownStore store;
  private final Pictures pictures;
  private final PartNames names;

  KnownView(KnownStore store, Pictures pictures, PartNames names) {
    this.store = store;
    this.pictures = pictures;
    this.names = names;
  }

  /**
   * A part in words.
   *
   * @param id the part
   * @param term its name
   * @param assembly where it belongs
   * @param state the look of the word for how it stands
   * @param word how it stands
   * @param today how likely it is named today, or that it was missed when it was asked for last
   * @param week how likely it is named a week from now
   */
  record Row(String id, String term, String assembly, String state, String word, String today, String week) {}

  /** The parts that stand alike. */
  record Group(String state, String word, String meaning, List<Row> rows) {}

  /**
   * What one apprentice knows.
   *
   * @param svg the instrument, coloured
   * @param anything whether anything was ever asked
   * @param groups the parts by how they stand, without empty groups
   * @param now the parts most worth practising now, the best first
   */
  record Own(String svg, boolean anything, List<Group> groups, List<Row> now) {}

  /** A part and how many of a class would name it. */
  record Share(String term, String assembly, String today, String week, int percent) {}

  /**
   * What a class knows.
   *
   * @param svg the instrument, coloured
   * @param people how many there are
   * @param shares the parts that somebody was asked for, the one that fewest would name first
   * @param notAsked how many parts nobody was asked for
   */
  record OfClass(String svg, int people, List<Share> shares, int notAsked) {}

  /** What an apprentice knows at a moment; the seed decides between parts that are equally worth practising. */
  Own own(UUID person, Instant at, long seed) {
    Knowledge knowledge = store.knowledge(List.of(person));
    Map<ConceptId, Double> likely = new LinkedHashMap<>();
    Map<Standing, List<Row>> byStanding = new EnumMap<>(Standing.class);
    for (ConceptId part : pictures.pool().parts()) {
      if (knowledge.trace(person, part).isPresent()) {
        likely.put(part, knowledge.shown(person, part, at).likely());
      }
      Row row = row(knowledge, person, part, at);
      byStanding.computeIfAbsent(Standing.of(knowledge, person, part, at), s -> new ArrayList<>()).add(row);
    }
    List<Group> groups =
        byStanding.entrySet().stream()
            .map(e -> new Group(state(e.getKey()), e.getKey().words(), e.getKey().meaning(), e.getValue()))
            .toList();
    List<Row> now =
        new Chooser(knowledge)
            .next(person, pictures.pool().parts(), Asking.named(), at, TO_PRACTISE, seed).stream()
            .map(worth -> row(knowledge, person, worth.part(), at))
            .toList();
    return new Own(pictures.coloured(likely).svg(), !likely.isEmpty(), groups, now);
  }

  private Row row(Knowledge knowledge, UUID person, ConceptId part, Instant at) {
    Standing standing = Standing.of(knowledge, person, part, at);
    boolean asked = standing != Standing.NOT_ASKED;
    return new Row(
        part.value(),
        names.heading(part),
        names.home(part).map(names::term).orElse(""),
        state(standing),
        standing.words(),
        asked ? today(knowledge, person, part, at) : "",
        asked ? outOf(10, knowledge.chance(person, part, at.plus(Chooser.AHEAD))) : "");
  }

  private static String today(Knowledge knowledge, UUID person, ConceptId part, Instant at) {
    boolean missed = knowledge.trace(person, part).filter(Trace::missed).isPresent();
    return missed ? "missed last time" : outOf(10, knowledge.chance(person, part, at));
  }

  /** What a class, of at least one, knows at a moment. */
  OfClass ofClass(List<UUID> people, Instant at) {
    Knowledge knowledge = store.knowledge(people);
    Map<ConceptId, Double> shares = new LinkedHashMap<>();
    for (ConceptId part : pictures.pool().parts()) {
      if (people.stream().anyMatch(p -> knowledge.trace(p, part).isPresent())) {
        shares.put(part, knowledge.shareShown(people, part, at).likely());
      }
    }
    List<Share> rows =
        shares.keySet().stream()
            .sorted(Comparator.comparing(shares::get))
            .map(part -> share(knowledge, people, part, at))
            .toList();
    return new OfClass(
        pictures.coloured(shares).svg(), people.size(), rows, pictures.pool().parts().size() - shares.size());
  }

  private Share share(Knowledge knowledge, List<UUID> people, ConceptId part, Instant at) {
    Chance today = knowledge.shareShown(people, part, at);
    return new Share(
        names.heading(part),
        names.home(part).map(names::term).orElse(""),
        outOf(people.size(), today),
        outOf(people.size(), knowledge.share(people, part, at.plus(Chooser.AHEAD))),
        (int) Math.round(100 * today.likely()));
  }

  /** The bounds as numbers of cases, such as "7–9 of 10". */
  static String outOf(int all, Chance chance) {
    long low = Math.round(chance.low() * all);
    long high = Math.round(chance.high() * all);
    return (low == high ? "" + low : low + "–" + high) + " of " + all;
  }

  private static String state(Standing standing) {
    return switch (standing) {
      case FIRM -> "good";
      case WORKING_LOOSE -> "open";
      case LOOSE -> "bad";
      case NOT_ASKED -> "";
    };
  }
}
