package ferrule.glossary;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The names of one instrument's parts: a concept scheme in the sense of the W3C SKOS Reference (2009), with part-of,
 * connections and qualifiers beside it. Immutable; every reference inside it leads to a concept of it.
 */
public final class Glossary {

  private final String id;
  private final String title;
  private final List<Variant> variants;
  private final List<Facet> facets;
  private final List<Sense> senses;
  private final Map<ConceptId, Concept> concepts;
  private final Map<ConceptId, List<Concept>> pieces;

  /**
   * A glossary of these concepts.
   *
   * @throws IllegalArgumentException if an id stands twice or a reference leads nowhere
   */
  public Glossary(
      String id,
      String title,
      List<Variant> variants,
      List<Facet> facets,
      List<Sense> senses,
      Collection<Concept> concepts) {
    this.id = id;
    this.title = title;
    this.variants = List.copyOf(variants);
    this.facets = List.copyOf(facets);
    this.senses = List.copyOf(senses);
    Map<ConceptId, Concept> byId = new LinkedHashMap<>();
    for (Concept c : concepts) {
      if (byId.put(c.id(), c) != null) {
        throw new IllegalArgumentException("concept id " + c.id() + " stands twice");
      }
    }
    this.concepts = Collections.unmodifiableMap(byId);
    Map<ConceptId, List<Concept>> byWhole = new LinkedHashMap<>();
    for (Concept c : concepts) {
      requireKnown(c.id(), c.broader().stream().toList());
      requireKnown(c.id(), c.partOf().stream().toList());
      requireKnown(c.id(), c.connects());
      requireKnown(c.id(), c.carries());
      requireKnown(c.id(), c.joins());
      c.partOf().ifPresent(whole -> byWhole.computeIfAbsent(whole, k -> new ArrayList<>()).add(c));
    }
    this.pieces = byWhole;
  }

  private void requireKnown(ConceptId from, List<ConceptId> targets) {
    for (ConceptId target : targets) {
      if (!concepts.containsKey(target)) {
        throw new IllegalArgumentException("concept " + from + " refers to " + target + ", which is not defined");
      }
    }
  }

  /** The glossary's id, the name of its folder, such as {@code trumpet}. */
  public String id() {
    return id;
  }

  /** The instrument in words. */
  public String title() {
    return title;
  }

  /** The variants, in the order of the file. */
  public List<Variant> variants() {
    return variants;
  }

  /** The facets, in the order of the file. */
  public List<Facet> facets() {
    return facets;
  }

  /** The facet with this id, if there is one. */
  public Optional<Facet> facet(String facetId) {
    return facets.stream().filter(f -> f.id().equals(facetId)).findFirst();
  }

  /** The senses of ambiguous words. */
  public List<Sense> senses() {
    return senses;
  }

  /** Every concept, in the order of the file. */
  public Collection<Concept> concepts() {
    return concepts.values();
  }

  /** The concepts that can be the answer to "what is this called". */
  public List<Concept> nameable() {
    return concepts.values().stream().filter(Concept::isNameable).toList();
  }

  /** The assemblies, in the order of the file. */
  public List<Concept> assemblies() {
    return concepts.values().stream().filter(c -> c.level() == Level.ASSEMBLY).toList();
  }

  /** The concept with this id, if there is one. */
  public Optional<Concept> find(ConceptId conceptId) {
    return Optional.ofNullable(concepts.get(conceptId));
  }

  /**
   * The concept with this id.
   *
   * @throws IllegalArgumentException if there is none
   */
  public Concept get(ConceptId conceptId) {
    return find(conceptId)
        .orElseThrow(() -> new IllegalArgumentException("glossary " + id + " has no concept " + conceptId));
  }

  /** The direct pieces of a whole, in the order of the file; empty if it has none. */
  public List<Concept> piecesOf(ConceptId whole) {
    return List.copyOf(pieces.getOrDefault(whole, List.of()));
  }

  /** All that belongs to a whole at any depth, the whole itself not included, in depth-first order. */
  public List<Concept> allWithin(ConceptId whole) {
    Set<Concept> found = new LinkedHashSet<>();
    collect(whole, found);
    return List.copyOf(found);
  }

  private void collect(ConceptId whole, Set<Concept> found) {
    for (Concept piece : pieces.getOrDefault(whole, List.of())) {
      if (found.add(piece)) {
        collect(piece.id(), found);
      }
    }
  }

  /** The wholes that a concept belongs to, nearest first; empty for a concept that is part of nothing. */
  public List<Concept> wholesOf(ConceptId part) {
    return chain(part, Concept::partOf);
  }

  /** The kinds that a concept belongs to, nearest first; empty for a concept with no broader one. */
  public List<Concept> kindsOf(ConceptId concept) {
    return chain(concept, Concept::broader);
  }

  private List<Concept> chain(
      ConceptId start, java.util.function.Function<Concept, Optional<ConceptId>> step) {
    Set<Concept> found = new LinkedHashSet<>();
    Optional<ConceptId> next = step.apply(get(start));
    while (next.isPresent() && found.add(get(next.get()))) {
      next = step.apply(get(next.get()));
    }
    return List.copyOf(found);
  }

  /**
   * Whether a concept occurs in an instrument with these variants: of each axis that the concept mentions, the chosen
   * variant must be among those it mentions.
   *
   * @param chosen ids of variants, at most one of each axis; an axis without a choice excludes nothing
   */
  public boolean occursIn(ConceptId concept, Set<String> chosen) {
    Set<String> own = get(concept).variants();
    return variants.stream()
        .filter(v -> chosen.contains(v.id()))
        .allMatch(v -> own.contains(v.id()) || axisNotMentioned(v.axis(), own));
  }

  private boolean axisNotMentioned(String axis, Set<String> own) {
    return variants.stream().noneMatch(v -> v.axis().equals(axis) && own.contains(v.id()));
  }
}
