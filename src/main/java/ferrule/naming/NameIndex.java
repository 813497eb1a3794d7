package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;

/**
 * A glossary turned round: from each word to the parts in whose names it can stand, and how it stands there. Made once for
 * a glossary; immutable.
 *
 * <p>Parts and words are numbered. A word belongs to a part <em>closely</em> if it is a word of the part's own terms, of
 * the terms of its kinds, of the terms of what it joins, or says the part's answer to a facet's question; <em>loosely</em>
 * if it is a word of the wholes that the part belongs to. It is a <em>head</em> of the part if it is the noun that one of
 * its terms, or of its kinds' terms, is about.
 */
final class NameIndex {

  /** How good a word is in a name of a part. */
  static final byte PREFERRED = 0;
  static final byte ALTERNATIVE = 1;
  static final byte COLLOQUIAL = 2;

  static final int NO_VALUE = -1;

  private static final Set<String> OPTIONAL_WORDS = Set.of("valve", "trumpet", "instrument", "horn", "assembly", "brass");
  private static final String ASSEMBLY = "assembly";

  final Lexicon lexicon;
  final List<Facet> facets;
  final List<Concept> parts;
  private final Glossary glossary;
  private final Map<ConceptId, Integer> numberOf = new HashMap<>();
  private final Map<ConceptId, List<Term>> readable;
  private final boolean[] optional;
  private final PartSet[] close;
  private final PartSet[] any;
  private final PartSet[] heads;
  private final long[][] meanings;
  private final long[][] mentions;
  private final int[][] values;
  private final int[][] wordsOf;
  private final byte[][] ranksOf;
  private final List<List<Label>> labels = new ArrayList<>();
  private final List<int[][]> nouns = new ArrayList<>();

  /**
   * One term of a part, taken apart.
   *
   * @param words all its words
   * @param nouns the words that must be said
   * @param qualifiers the facets whose answer must be said
   * @param optionalWords the words that may be left out
   * @param role its role
   * @param oneSense whether it has one meaning; a term with a sense of its own never settles what is meant
   */
  record Label(int[] words, int[] nouns, int[] qualifiers, int[] optionalWords, TermRole role, boolean oneSense) {}

  NameIndex(Glossary glossary) {
    this.glossary = glossary;
    this.facets = glossary.facets();
    facets.forEach(NameIndex::requireFewValues);
    this.parts = glossary.nameable();
    for (Concept part : parts) {
      numberOf.put(part.id(), numberOf.size());
    }
    this.lexicon = lexiconOf(glossary);
    this.readable = readableTerms();
    this.optional = new boolean[lexicon.size()];
    for (int w = 0; w < optional.length; w++) {
      optional[w] = OPTIONAL_WORDS.contains(lexicon.word(w));
    }
    this.mentions = meaningsOf(w -> true);
    Set<Integer> nouns = nouns();
    this.meanings = meaningsOf(w -> !optional[w] && !nouns.contains(w));
    this.values = new int[parts.size()][];
    this.wordsOf = new int[parts.size()][];
    this.ranksOf = new byte[parts.size()][];
    BitSet[] closeBits = bitSets();
    BitSet[] anyBits = bitSets();
    BitSet[] headBits = bitSets();
    for (int p = 0; p < parts.size(); p++) {
      new Entry(p).fill(closeBits, anyBits, headBits);
    }
    this.close = partSets(closeBits);
    this.any = partSets(anyBits);
    this.heads = partSets(headBits);
  }

  private static Lexicon lexiconOf(Glossary glossary) {
    Set<String> phrases = new LinkedHashSet<>();
    Map<String, Set<String>> idle = new HashMap<>();
    Set<String> adjectives = new LinkedHashSet<>();
    for (Facet f : glossary.facets()) {
      f.values().forEach(v -> phrases.addAll(phrasesOf(v)));
      idle.putAll(wordsOfSeveralValues(f));
      if (f.values().stream().noneMatch(v -> endsATerm(glossary, v.term()))) {
        f.values().forEach(v -> adjectives.add(v.term()));
      }
    }
    adjectives.removeAll(English.ORDINALS.values());
    phrases.add(ASSEMBLY);
    for (Concept c : glossary.concepts()) {
      c.terms().stream().filter(t -> t.role() != TermRole.MISSPELLING).map(Term::text).forEach(phrases::add);
      c.terms().stream().map(Term::text).forEach(text -> Wording.of(text).words().forEach(idle::remove));
    }
    return new Lexicon(phrases, idle, KnownSlips.in(glossary), adjectives);
  }

  /**
   * Words that stand in phrases for two answers to one question, such as "side" in "bell side" and "leadpipe side", and so
   * give neither, with the words that they follow.
   */
  private static Map<String, Set<String>> wordsOfSeveralValues(Facet facet) {
    Set<String> seen = new HashSet<>();
    Map<String, Set<String>> several = new HashMap<>();
    for (Facet.Value value : facet.values()) {
      Set<String> own = new HashSet<>();
      phrasesOf(value).forEach(phrase -> own.addAll(Wording.of(phrase).words()));
      own.stream().filter(word -> !seen.add(word)).forEach(word -> several.put(word, new HashSet<>()));
    }
    for (Facet.Value value : facet.values()) {
      for (String phrase : phrasesOf(value)) {
        List<String> words = Wording.of(phrase).words();
        for (int i = 1; i < words.size(); i++) {
          several.getOrDefault(words.get(i), new HashSet<>()).add(words.get(i - 1));
        }
      }
    }
    return several;
  }

  private static void requireFewValues(Facet facet) {
    if (facet.values().size() > Long.SIZE) {
      throw new IllegalArgumentException(
          "facet " + facet.id() + " has " + facet.values().size() + " values; the reader takes at most " + Long.SIZE);
    }
  }

  /** Whether a facet's word is also the noun of a term, as "slide" in "complete slide". */
  private static boolean endsATerm(Glossary glossary, String word) {
    return glossary.concepts().stream().flatMap(c -> c.terms().stream()).anyMatch(t -> t.text().endsWith(" " + word));
  }

  /** The terms of each concept that can be read: a noted misspelling is left out if nobody could tell what it is meant for. */
  private Map<ConceptId, List<Term>> readableTerms() {
    Map<ConceptId, List<Term>> terms = new HashMap<>();
    for (Concept c : glossary.concepts()) {
      terms.put(
          c.id(),
          c.terms().stream().filter(t -> t.role() != TermRole.MISSPELLING || lexicon.knows(t.text())).toList());
    }
    return terms;
  }

  private List<Term> termsOf(Concept c) {
    return readable.get(c.id());
  }

  private BitSet[] bitSets() {
    BitSet[] sets = new BitSet[lexicon.size()];
    Arrays.setAll(sets, i -> new BitSet());
    return sets;
  }

  private PartSet[] partSets(BitSet[] bits) {
    return Arrays.stream(bits).map(set -> PartSet.of(set, parts.size())).toArray(PartSet[]::new);
  }

  /** The words that a term of the glossary ends in. */
  private Set<Integer> nouns() {
    Set<Integer> nouns = new LinkedHashSet<>();
    for (Concept c : glossary.concepts()) {
      for (Term t : termsOf(c)) {
        int[] words = lexicon.numbersOf(t.text());
        if (words.length > 0) {
          nouns.add(words[words.length - 1]);
        }
      }
    }
    return nouns;
  }

  /**
   * For each word and facet, the values that the word says, as bits. In a facet phrase of several words, only those that
   * tell by themselves count, which nouns of the glossary ("slide" in "main tuning slide") and optional words do not.
   */
  private long[][] meaningsOf(IntPredicate tells) {
    long[][] found = new long[lexicon.size()][];
    for (int f = 0; f < facets.size(); f++) {
      List<Facet.Value> choices = facets.get(f).values();
      for (int v = 0; v < choices.size(); v++) {
        for (String phrase : phrasesOf(choices.get(v))) {
          int[] words = lexicon.numbersOf(phrase);
          for (int w : words) {
            if (words.length == 1 || tells.test(w)) {
              found[w] = found[w] == null ? new long[facets.size()] : found[w];
              found[w][f] |= 1L << v;
            }
          }
        }
      }
    }
    return found;
  }

  private static List<String> phrasesOf(Facet.Value value) {
    List<String> phrases = new ArrayList<>();
    phrases.add(value.term());
    phrases.addAll(value.also());
    return phrases;
  }

  /** The number of a concept, if it can be an answer. */
  Optional<Integer> number(ConceptId id) {
    return Optional.ofNullable(numberOf.get(id));
  }

  /**
   * The facets whose question a part answers as no part does that gives a certain answer to another facet's: having a first
   * valve to name goes with being of a valve slide, and not of the main tuning slide.
   */
  List<Integer> excludedBy(int facet, int value, int part) {
    boolean[] met = new boolean[facets.size()];
    boolean[] shared = new boolean[facets.size()];
    for (int[] other : values) {
      for (int f = 0; other[facet] == value && f < met.length; f++) {
        met[f] |= other[f] != NO_VALUE;
        shared[f] |= other[f] == values[part][f];
      }
    }
    return IntStream.range(0, met.length)
        .filter(f -> values[part][f] != NO_VALUE && met[f] && !shared[f])
        .boxed()
        .toList();
  }

  /** The preferred terms of what a brace joins. */
  List<String> joined(int part) {
    return parts.get(part).joins().stream().map(id -> glossary.get(id).term()).toList();
  }

  boolean isOptional(int word) {
    return optional[word];
  }

  /** The parts to whose names a word can belong, closely or loosely. */
  PartSet any(int word) {
    return any[word];
  }

  /** The parts to whose names a word belongs closely. */
  PartSet close(int word) {
    return close[word];
  }

  /** The parts of which a word is a head. */
  PartSet heads(int word) {
    return heads[word];
  }

  /** The answers to a facet's question that a word gives, as bits; 0 if it gives none. */
  long saidBy(int word, int facet) {
    return meanings[word] == null ? 0 : meanings[word][facet];
  }

  /** Whether two words answer a facet's question, each otherwise than the other. */
  boolean contradict(int word, int other, int facet) {
    return saidBy(word, facet) != 0
        && saidBy(other, facet) != 0
        && (mentions[word][facet] & mentions[other][facet]) == 0;
  }

  /** Whether a word stands in answers to a facet's question, and in none that is this part's. */
  boolean answersOtherwise(int word, int part, int facet) {
    int own = values[part][facet];
    boolean answers = own != NO_VALUE && mentions[word] != null && mentions[word][facet] != 0;
    return answers && (mentions[word][facet] >>> own & 1) == 0;
  }

  /** A part's own or inherited answer to a facet's question, or {@link #NO_VALUE}. */
  int value(int part, int facet) {
    return values[part][facet];
  }

  /** The nouns of the good terms of a part's kinds, or its own if it has none: their words but qualifiers and optional ones. */
  int[][] nouns(int part) {
    return nouns.get(part);
  }

  List<Label> labels(int part) {
    return labels.get(part);
  }

  /** How good a word is in a name of a part. */
  byte rank(int part, int word) {
    int at = Arrays.binarySearch(wordsOf[part], word);
    return at < 0 ? (optional[word] ? PREFERRED : ALTERNATIVE) : ranksOf[part][at];
  }

  /** Whether these words say a part's answer to a facet's question. */
  boolean says(int[] said, int facet, int value) {
    for (int w : said) {
      if ((saidBy(w, facet) >>> value & 1) != 0) {
        return true;
      }
    }
    return false;
  }

  /** What is known of one part while the index is made. */
  private final class Entry {
    private final int part;
    private final Concept concept;
    private final List<Concept> kinds;
    private final int[] own;
    private final Map<Integer, Byte> closeWords = new TreeMap<>();
    private final Map<Integer, Byte> looseWords = new TreeMap<>();
    private final Set<Integer> headWords = new LinkedHashSet<>();

    Entry(int part) {
      this.part = part;
      this.concept = parts.get(part);
      this.kinds = glossary.kindsOf(concept.id());
      this.own = answersOf(concept);
    }

    void fill(BitSet[] closeBits, BitSet[] anyBits, BitSet[] headBits) {
      values[part] = own;
      collectWords();
      collectHeads();
      labels.add(labelsOf());
      nouns.add(nounsOf());
      closeWords.keySet().forEach(w -> closeBits[w].set(part));
      closeWords.keySet().forEach(w -> anyBits[w].set(part));
      looseWords.keySet().forEach(w -> anyBits[w].set(part));
      headWords.forEach(w -> headBits[w].set(part));
      keepRanks();
    }

    private void keepRanks() {
      Map<Integer, Byte> all = new TreeMap<>(looseWords);
      all.putAll(closeWords);
      wordsOf[part] = all.keySet().stream().mapToInt(w -> w).toArray();
      ranksOf[part] = new byte[all.size()];
      for (int i = 0; i < wordsOf[part].length; i++) {
        ranksOf[part][i] = optional[wordsOf[part][i]] ? PREFERRED : all.get(wordsOf[part][i]);
      }
    }

    private void collectWords() {
      addTerms(closeWords, concept, PREFERRED);
      kinds.forEach(kind -> addTerms(closeWords, kind, ALTERNATIVE));
      addFacetWords(own);
      for (ConceptId joined : concept.joins()) {
        addTerms(closeWords, glossary.get(joined), PREFERRED);
        glossary.kindsOf(joined).forEach(kind -> addTerms(closeWords, kind, ALTERNATIVE));
        addFacetWords(answersOf(glossary.get(joined)));
      }
      if (concept.level() == Level.ASSEMBLY) {
        add(closeWords, lexicon.numbersOf(ASSEMBLY), PREFERRED);
      }
      for (Concept whole : glossary.wholesOf(concept.id())) {
        addTerms(looseWords, whole, ALTERNATIVE);
        glossary.kindsOf(whole.id()).forEach(kind -> addTerms(looseWords, kind, ALTERNATIVE));
      }
      int assembly = lexicon.numbersOf(ASSEMBLY)[0];
      looseWords.remove(assembly);
    }

    /** Adds the words of a concept's terms, none ranked better than {@code best}. */
    private void addTerms(Map<Integer, Byte> words, Concept from, byte best) {
      for (Term term : termsOf(from)) {
        byte rank = switch (term.role()) {
          case PREFERRED, MISSPELLING -> PREFERRED;
          case ALTERNATIVE -> ALTERNATIVE;
          case COLLOQUIAL -> COLLOQUIAL;
        };
        add(words, lexicon.numbersOf(term.text()), (byte) Math.max(rank, best));
      }
    }

    private void add(Map<Integer, Byte> words, int[] numbers, byte rank) {
      for (int w : numbers) {
        words.merge(w, rank, (a, b) -> (byte) Math.min(a, b));
      }
    }

    private void addFacetWords(int[] answers) {
      for (int f = 0; f < answers.length; f++) {
        if (answers[f] != NO_VALUE) {
          Facet.Value value = facets.get(f).values().get(answers[f]);
          addFacetPhrase(f, answers[f], value.term(), PREFERRED);
          for (String also : value.also()) {
            addFacetPhrase(f, answers[f], also, ALTERNATIVE);
          }
        }
      }
    }

    private void addFacetPhrase(int facet, int value, String phrase, byte rank) {
      for (int w : lexicon.numbersOf(phrase)) {
        if ((saidBy(w, facet) >>> value & 1) != 0) {
          add(closeWords, new int[] {w}, rank);
        }
      }
    }

    private void collectHeads() {
      List<Concept> named = new ArrayList<>(kinds);
      named.add(0, concept);
      for (Concept from : named) {
        Set<Integer> good = new LinkedHashSet<>();
        for (Term term : termsOf(from)) {
          if (term.role() == TermRole.PREFERRED || term.role() == TermRole.ALTERNATIVE) {
            int[] words = lexicon.numbersOf(term.text());
            Arrays.stream(words).forEach(good::add);
            addHead(words);
          }
        }
        for (Term term : termsOf(from)) {
          if (term.role() == TermRole.COLLOQUIAL || term.role() == TermRole.MISSPELLING) {
            addMarkOf(lexicon.numbersOf(term.text()), good);
          }
        }
      }
    }

    /**
     * The last word that is neither optional nor a qualifier of this part; failing that, the last that is neither optional
     * nor a number ("slide" in "first slide"); failing that, the last ("valve" in "first valve").
     */
    private void addHead(int[] words) {
      int head = lastThat(words, w -> !optional[w] && ownFacetOf(w) < 0);
      head = head >= 0 ? head : lastThat(words, w -> !optional[w] && !isOrdinal(w));
      head = head >= 0 ? head : lastThat(words, w -> !isOrdinal(w) && !lexicon.word(w).equals(ASSEMBLY));
      head = head >= 0 ? head : lastThat(words, w -> true);
      if (head >= 0) {
        headWords.add(head);
      }
    }

    private int lastThat(int[] words, IntPredicate wanted) {
      for (int i = words.length - 1; i >= 0; i--) {
        if (wanted.test(words[i])) {
          return words[i];
        }
      }
      return -1;
    }

    private boolean isOrdinal(int word) {
      return English.ORDINALS.containsValue(lexicon.word(word));
    }

    /** Of a name that is not good usage, such as "spit valve", only the word that gives it away is a head. */
    private void addMarkOf(int[] words, Set<Integer> good) {
      if (words.length > 0 && headWords.contains(words[words.length - 1])) {
        return;
      }
      for (int w : words) {
        if (!good.contains(w) && !optional[w] && ownFacetOf(w) < 0) {
          headWords.add(w);
          return;
        }
      }
      addHead(words);
    }

    private int[][] nounsOf() {
      List<Concept> named = kinds.isEmpty() ? List.of(concept) : kinds;
      return named.stream()
          .flatMap(c -> termsOf(c).stream())
          .filter(t -> t.role() == TermRole.PREFERRED || t.role() == TermRole.ALTERNATIVE)
          .map(t -> nounIn(lexicon.numbersOf(t.text())))
          .filter(words -> words.length > 0)
          .toArray(int[][]::new);
    }

    private int[] nounIn(int[] words) {
      int[] noun = Arrays.stream(words).filter(w -> !optional[w] && (kinds.isEmpty() || meanings[w] == null)).toArray();
      return noun.length > 0 ? noun : Arrays.stream(words).filter(w -> !optional[w] && !isOrdinal(w)).toArray();
    }

    private List<Label> labelsOf() {
      List<Label> found = new ArrayList<>();
      for (Term term : termsOf(concept)) {
        int[] words = lexicon.numbersOf(term.text());
        found.add(label(words, term.role(), term.sense().isEmpty()));
        for (Concept kind : kinds) {
          found.addAll(withOtherKindTerms(words, term, kind));
        }
      }
      return List.copyOf(found);
    }

    /** The same label with another of its kind's terms for the one that it ends in. */
    private List<Label> withOtherKindTerms(int[] words, Term own, Concept kind) {
      List<int[]> kindTerms = termsOf(kind).stream().map(t -> lexicon.numbersOf(t.text())).toList();
      List<Label> found = new ArrayList<>();
      for (int[] ending : kindTerms) {
        int stem = words.length - ending.length;
        if (ending.length > 0 && stem >= 0 && Arrays.equals(words, stem, words.length, ending, 0, ending.length)) {
          for (int i = 0; i < kindTerms.size(); i++) {
            int[] other = kindTerms.get(i);
            if (other != ending) {
              int[] changed = Arrays.copyOf(words, stem + other.length);
              System.arraycopy(other, 0, changed, stem, other.length);
              Term term = termsOf(kind).get(i);
              boolean oneSense = own.sense().isEmpty() && term.sense().isEmpty();
              found.add(label(changed, worse(own.role(), term.role()), oneSense));
            }
          }
        }
      }
      return found;
    }

    private TermRole worse(TermRole a, TermRole b) {
      return a.compareTo(b) >= 0 ? a : b;
    }

    private Label label(int[] words, TermRole role, boolean oneSense) {
      int[] answers = answersIn(words);
      List<Integer> nouns = new ArrayList<>();
      List<Integer> spare = new ArrayList<>();
      Set<Integer> asked = new LinkedHashSet<>();
      for (int i = 0; i < words.length; i++) {
        if (answers[i] >= 0) {
          asked.add(answers[i]);
        } else {
          (optional[words[i]] ? spare : nouns).add(words[i]);
        }
      }
      if (nouns.isEmpty()) {
        nouns.addAll(spare);
        spare.clear();
      }
      return new Label(words, ints(nouns), ints(asked), ints(spare), role, oneSense);
    }

    /** For each word of a term, the facet whose question it helps to answer as the part does, or -1. */
    private int[] answersIn(int[] words) {
      int[] answers = new int[words.length];
      for (int i = 0; i < words.length; i++) {
        answers[i] = optional[words[i]] ? -1 : ownFacetOf(words[i]);
      }
      if (Arrays.stream(words).allMatch(w -> ownFacetOf(w) >= 0 || optional[w])) {
        return answers;
      }
      int[] whole = answers.clone();
      for (int f = 0; f < own.length; f++) {
        if (own[f] != NO_VALUE) {
          for (String phrase : phrasesOf(facets.get(f).values().get(own[f]))) {
            markRun(words, lexicon.numbersOf(phrase), f, whole);
          }
        }
      }
      boolean nounLeft = false;
      for (int i = 0; i < words.length; i++) {
        nounLeft |= whole[i] < 0 && !optional[words[i]];
      }
      return nounLeft ? whole : answers;
    }

    private void markRun(int[] words, int[] run, int facet, int[] answers) {
      for (int i = 0; run.length > 1 && i + run.length <= words.length; i++) {
        if (Arrays.equals(words, i, i + run.length, run, 0, run.length)) {
          Arrays.fill(answers, i, i + run.length, facet);
        }
      }
    }

    private int ownFacetOf(int word) {
      for (int f = 0; f < own.length; f++) {
        if (own[f] != NO_VALUE && (saidBy(word, f) >>> own[f] & 1) != 0) {
          return f;
        }
      }
      return -1;
    }

    private int[] ints(Collection<Integer> numbers) {
      return numbers.stream().mapToInt(i -> i).toArray();
    }
  }

  /** A concept's answers to the facets' questions, its own or else those of the nearest whole that has one. */
  private int[] answersOf(Concept concept) {
    int[] answers = new int[facets.size()];
    Arrays.fill(answers, NO_VALUE);
    List<Concept> sources = new ArrayList<>();
    sources.add(concept);
    sources.addAll(glossary.wholesOf(concept.id()));
    for (Concept source : sources) {
      for (int f = 0; f < answers.length; f++) {
        String value = source.qualifiers().get(facets.get(f).id());
        if (answers[f] == NO_VALUE && value != null) {
          answers[f] = placeOf(facets.get(f), value);
        }
      }
    }
    return answers;
  }

  private static int placeOf(Facet facet, String valueId) {
    for (int v = 0; v < facet.values().size(); v++) {
      if (facet.values().get(v).id().equals(valueId)) {
        return v;
      }
    }
    return NO_VALUE;
  }
}
