package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.glossary.Glossary;
import ferrule.glossary.TermRole;
import ferrule.naming.NameIndex.Label;
import ferrule.naming.Reading.Obstacle;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.IntPredicate;

/**
 * Reads a typed phrase into the part that it picks out, and judges it against the part that was asked for.
 *
 * <p><b>Reading.</b> A phrase is a bag of words: qualifiers and a head noun in any order. It fits a part if one of its words
 * is a head of the part (the noun that one of its terms or of its kinds' terms is about) and every other word can stand in
 * the part's name: a word of its terms, of its kinds' terms, of the terms of what it joins or belongs to, or a word for its
 * answer to a facet's question. Words that bind ("of the") and words around an answer ("I think") are ignored; optional words
 * ("valve", "trumpet", "assembly") count where a part has them in its name and are ignored where no part would fit with them.
 *
 * <p><b>Several parts fit.</b> Those whose own names hold all the words go before those that only belong to something with
 * such a name; then those of which a whole term was said go before those of which something is still unsaid (so "third slide"
 * is the slide and not a part of it), a term with all its optional words first. What is left is what the phrase picks out.
 *
 * <p><b>The context rule.</b> A qualifier may be left out when it is not needed to single the part out: the phrase is right if
 * the asked part is the only one that it picks out among all the glossary's parts, or the only one among the parts of the
 * context, such as those that the drawing shows. The context only ever narrows what a phrase picks out; it never makes a
 * phrase fit.
 *
 * <p><b>Wrong in one qualifier.</b> The phrase does not fit the asked part, its noun does, and all that stands against is a
 * word that answers one facet's question otherwise; or it picks out a brace of the same kind that joins other things. Anything
 * else that fits a part is another part.
 *
 * <p><b>Cost.</b> Each word costs a hash look-up, or for an unknown word the look-ups of {@link DeletionIndex}; the parts are
 * found by walking the shortest of the words' part lists and asking the others for each. So the cost grows with the answer's
 * length and with the parts that fit, hardly with the glossary. A phrase of more than {@value Lexicon#MOST_WORDS} words is
 * not read.
 */
public final class TermReader {

  private static final int[] NO_PARTS = new int[0];
  private static final int NO_TERM = Integer.MAX_VALUE;
  private static final Label NOTHING_SAID_FOR_IT =
      new Label(NO_PARTS, NO_PARTS, NO_PARTS, NO_PARTS, TermRole.PREFERRED, true);

  private final NameIndex index;
  private final Lexicon lexicon;

  private TermReader(NameIndex index) {
    this.index = index;
    this.lexicon = index.lexicon;
  }

  /** A reader of a glossary's names. Making one takes some milliseconds; it is immutable and safe to share. */
  public static TermReader of(Glossary glossary) {
    return new TermReader(new NameIndex(glossary));
  }

  /**
   * The normal form of a phrase: case, punctuation, accents, hyphens and possessives taken off. Phrases with the same normal
   * form are read alike, and the normal form of a normal form is itself.
   */
  public static String normalForm(String typed) {
    return Wording.of(typed).text();
  }

  /** What a phrase picks out. Any text will do; none makes it throw. */
  public Reading read(String typed) {
    return scan(typed).reading();
  }

  /** Whether this is the id of a part that an answer can name. */
  public boolean reads(ConceptId key) {
    return index.number(key).isPresent();
  }

  /**
   * Judges a phrase as the name of a part, in the context of the whole instrument.
   *
   * @throws IllegalArgumentException if the glossary has no such part
   */
  public Verdict judge(ConceptId key, String typed) {
    return judge(key, typed, Set.of());
  }

  /**
   * Judges a phrase as the name of a part.
   *
   * @param key the part that was asked for
   * @param context the parts among which it was to be singled out, such as those that the drawing showed; empty for all
   * @throws IllegalArgumentException if the glossary has no such part
   */
  public Verdict judge(ConceptId key, String typed, Collection<ConceptId> context) {
    int asked =
        index.number(key).orElseThrow(() -> new IllegalArgumentException("no part of the glossary has the id " + key));
    return scan(typed).verdict(asked, context);
  }

  /** All parts that a phrase fits, also those for which it is only an everyday name beside a trade term of another. */
  List<Concept> fitting(String typed) {
    Scan scan = scan(typed);
    return scan.concepts(scan.fits);
  }

  /** How many characters, words, stored words and parts reading a phrase looks at: its cost, independent of any clock. */
  long workOf(String typed) {
    return scan(typed).work;
  }

  private Scan scan(String typed) {
    return new Scan(typed);
  }

  /** One phrase on its way through the reader. */
  private final class Scan {
    private final String typed;
    private final Lexicon.Spoken spoken;
    private final int[] said;
    private final int[] needed;
    /** All that fit, everyday names included. */
    private int[] fits = NO_PARTS;
    /** Of those, the ones that the phrase picks out: with a trade term for one part, an everyday name for another yields. */
    private int[] picked = NO_PARTS;
    private boolean namesNoun;
    private long work;

    Scan(String typed) {
      this.typed = typed;
      this.spoken = lexicon.understand(Wording.of(typed));
      this.said = spoken.words();
      this.needed = withoutOptional(said);
      this.work = spoken.work + (long) typed.length();
      if (blockedBy() == Obstacle.NONE) {
        fit();
      }
    }

    private Obstacle blockedBy() {
      if (spoken.tooLong) {
        return Obstacle.TOO_LONG;
      }
      if (spoken.denies) {
        return Obstacle.DENIED;
      }
      if (!spoken.unknown.isEmpty()) {
        return spoken.tied.isEmpty() ? Obstacle.UNKNOWN_WORD : Obstacle.EITHER_WORD;
      }
      if (spoken.describes) {
        return Obstacle.DESCRIBED;
      }
      return said.length == 0 ? Obstacle.NOTHING_SAID : Obstacle.NONE;
    }

    private int[] withoutOptional(int[] words) {
      int kept = 0;
      int[] left = new int[words.length];
      for (int w : words) {
        if (!index.isOptional(w)) {
          left[kept++] = w;
        }
      }
      return kept == 0 || kept == words.length ? words : Arrays.copyOf(left, kept);
    }

    private void fit() {
      namesNoun = true;
      fits = covering(said, true);
      if (fits.length == 0 && needed.length < said.length) {
        fits = covering(needed, true);
      }
      if (fits.length == 0) {
        namesNoun = false;
        fits = contradictingWords().isEmpty() ? fitsWithoutNoun() : NO_PARTS;
      }
      fits = fits.length > 1 && namesNoun ? narrowed(fits) : fits;
      picked = fits.length > 1 ? inBestUsage(fits) : fits;
    }

    private int[] fitsWithoutNoun() {
      int[] found = covering(said, false);
      return found.length == 0 && needed.length < said.length ? covering(needed, false) : found;
    }

    private int[] inBestUsage(int[] candidates) {
      int[] ranks = Arrays.stream(candidates).map(this::rankOf).toArray();
      boolean trade = Arrays.stream(ranks).anyMatch(r -> r < NameIndex.COLLOQUIAL);
      int[] kept = new int[candidates.length];
      int count = 0;
      for (int i = 0; i < candidates.length; i++) {
        if (!trade || ranks[i] < NameIndex.COLLOQUIAL) {
          kept[count++] = candidates[i];
        }
      }
      return Arrays.copyOf(kept, count);
    }

    /** The parts to whose names all these words can belong, and of which, if asked, one of the words is a head. */
    private int[] covering(int[] words, boolean withHead) {
      PartSet[] sets = new PartSet[words.length];
      for (int i = 0; i < words.length; i++) {
        sets[i] = index.any(words[i]);
      }
      int[] found = PartSet.common(sets);
      work += sets[0].cost() + found.length;
      if (!withHead) {
        return found;
      }
      int count = 0;
      for (int part : found) {
        if (hasHead(words, part)) {
          found[count++] = part;
        }
      }
      return count == found.length ? found : Arrays.copyOf(found, count);
    }

    private boolean hasHead(int[] words, int part) {
      for (int w : words) {
        if (index.heads(w).contains(part)) {
          return true;
        }
      }
      return false;
    }

    private int[] narrowed(int[] candidates) {
      int[] own = kept(candidates, this::isOwnName);
      int[] named = withLongestNoun(own);
      int[] told = kept(kept(named, this::isToldBeforeNoun), this::isSaidAsOften);
      int[] distances = Arrays.stream(told).map(this::distanceToTerm).toArray();
      int least = Arrays.stream(distances).min().orElse(NO_TERM);
      if (least == NO_TERM) {
        return told;
      }
      int[] nearest = new int[told.length];
      int count = 0;
      for (int i = 0; i < told.length; i++) {
        if (distances[i] == least) {
          nearest[count++] = told[i];
        }
      }
      return Arrays.copyOf(nearest, count);
    }

    /** The candidates that pass, or all of them if none does. */
    private int[] kept(int[] candidates, IntPredicate test) {
      int[] passed = Arrays.stream(candidates).filter(test).toArray();
      return passed.length > 0 ? passed : candidates;
    }

    private boolean isOwnName(int part) {
      for (int w : needed) {
        if (!index.close(w).contains(part)) {
          return false;
        }
      }
      return true;
    }

    /** The candidates of whose good terms the longest noun was said whole: "ring" is that of a finger ring, not of a joint ring. */
    private int[] withLongestNoun(int[] candidates) {
      int[] lengths = Arrays.stream(candidates).map(this::longestNoun).toArray();
      int longest = Arrays.stream(lengths).max().orElse(0);
      int[] kept = new int[candidates.length];
      int count = 0;
      for (int i = 0; i < candidates.length; i++) {
        if (lengths[i] == longest) {
          kept[count++] = candidates[i];
        }
      }
      return Arrays.copyOf(kept, count);
    }

    private int longestNoun(int part) {
      int longest = 0;
      for (int[] noun : index.nouns(part)) {
        int unsaid = 0;
        for (int w : noun) {
          unsaid += isSaid(w) ? 0 : 1;
        }
        longest = unsaid == 0 ? Math.max(longest, noun.length) : longest;
      }
      return longest;
    }

    /** Whether one of the part's terms has each word that was said repeatedly as often as it was said. */
    private boolean isSaidAsOften(int part) {
      int[] sequence = spoken.sequence();
      return sequence.length == said.length
          || index.labels(part).stream().anyMatch(label -> hasAsOften(label, sequence));
    }

    private boolean hasAsOften(Label label, int[] sequence) {
      for (int w : needed) {
        int times = count(sequence, w);
        if (times > 1 && count(label.words(), w) < times) {
          return false;
        }
      }
      return true;
    }

    /** Whether the word before the part's noun does not answer a question otherwise than the part does. */
    private boolean isToldBeforeNoun(int part) {
      int[] sequence = withoutOptional(spoken.sequence());
      for (int i = sequence.length - 1; i > 0; i--) {
        if (index.heads(sequence[i]).contains(part)) {
          return !answersOtherwise(sequence[i - 1], part);
        }
      }
      return true;
    }

    private boolean answersOtherwise(int word, int part) {
      for (int f = 0; f < index.facets.size(); f++) {
        if (index.answersOtherwise(word, part, f)) {
          return true;
        }
      }
      return false;
    }

    /**
     * How far the phrase is from a term of the part that it says whole, the nearest of them: optional words left out, words
     * too many, and words not said as often as the term has them; very far if it says no term whole.
     */
    private int distanceToTerm(int part) {
      int nearest = NO_TERM;
      for (Label label : index.labels(part)) {
        if (label.oneSense() && isSaidWhole(part, label)) {
          nearest = Math.min(nearest, distance(part, label));
        }
      }
      return nearest;
    }

    private int distance(int part, Label label) {
      int distance = 0;
      for (int w : label.optionalWords()) {
        distance += isSaid(w) ? 0 : 1;
      }
      for (int w : said) {
        int inLabel = count(label.words(), w);
        int times = count(spoken.sequence(), w);
        if (inLabel > 0 && times > 1 && !index.isOptional(w)) {
          distance += Math.abs(times - inLabel);
        } else if (inLabel == 0 && !isAnswerIn(label, part, w)) {
          distance++;
        }
      }
      return distance;
    }

    private boolean isAnswerIn(Label label, int part, int word) {
      for (int facet : label.qualifiers()) {
        if ((index.saidBy(word, facet) >>> index.value(part, facet) & 1) != 0) {
          return true;
        }
      }
      return false;
    }

    private int count(int[] words, int word) {
      int times = 0;
      for (int w : words) {
        times += w == word ? 1 : 0;
      }
      return times;
    }

    private boolean isSaidWhole(int part, Label label) {
      for (int w : label.nouns()) {
        if (!isSaid(w)) {
          return false;
        }
      }
      for (int facet : label.qualifiers()) {
        if (!index.says(said, facet, index.value(part, facet))) {
          return false;
        }
      }
      return true;
    }

    private boolean isSaid(int word) {
      for (int w : said) {
        if (w == word) {
          return true;
        }
      }
      return false;
    }

    Reading reading() {
      Obstacle obstacle = obstacle();
      List<String> about =
          switch (obstacle) {
            case UNKNOWN_WORD -> spoken.unknown;
            case EITHER_WORD -> spoken.tied;
            case CONTRADICTION -> contradictingWords();
            default -> List.of();
          };
      return new Reading(typed, concepts(picked), namesNoun && picked.length > 0, spoken.corrections, obstacle, about);
    }

    private Obstacle obstacle() {
      Obstacle blocked = blockedBy();
      if (blocked != Obstacle.NONE || fits.length > 0) {
        return blocked;
      }
      return contradictingWords().isEmpty() ? Obstacle.NO_SUCH_PART : Obstacle.CONTRADICTION;
    }

    /** Two words said that answer one question differently; none if no two do. */
    private List<String> contradictingWords() {
      for (int f = 0; f < index.facets.size(); f++) {
        for (int i = 0; i < said.length; i++) {
          for (int j = i + 1; j < said.length; j++) {
            if (index.contradict(said[i], said[j], f)) {
              return List.of(lexicon.word(said[i]), lexicon.word(said[j]));
            }
          }
        }
      }
      return List.of();
    }

    /** Whether two words said answer one question differently, and the asked part's name does not hold both. */
    private boolean contradictsItself(int asked) {
      for (int f = 0; f < index.facets.size(); f++) {
        for (int one : said) {
          for (int other : said) {
            boolean both = index.any(one).contains(asked) && index.any(other).contains(asked);
            if (!both && index.contradict(one, other, f)) {
              return true;
            }
          }
        }
      }
      return false;
    }

    private List<Concept> concepts(int[] numbers) {
      List<Concept> found = new ArrayList<>(numbers.length);
      for (int part : numbers) {
        found.add(index.parts.get(part));
      }
      return found;
    }

    Verdict verdict(int asked, Collection<ConceptId> context) {
      Concept part = index.parts.get(asked);
      if (blockedBy() != Obstacle.NONE) {
        return new Verdict.Unknown(part, reading());
      }
      if (contains(fits, asked)) {
        boolean alone = picked.length == 1 && picked[0] == asked;
        boolean singled = namesNoun && (alone || isOnlyOneOf(context, asked));
        return singled ? right(asked) : tooVague(asked, context);
      }
      return namesNoun || fits.length == 0 ? wrong(asked) : new Verdict.Unknown(part, reading());
    }

    private boolean contains(int[] numbers, int part) {
      for (int p : numbers) {
        if (p == part) {
          return true;
        }
      }
      return false;
    }

    /** The parts that the phrase picks out, or all that it fits if the asked one is among those only by an everyday name. */
    private int[] offered(int asked) {
      return contains(picked, asked) ? picked : fits;
    }

    private boolean isOnlyOneOf(Collection<ConceptId> context, int asked) {
      return !context.isEmpty()
          && inContext(offered(asked), context).stream().allMatch(c -> c == index.parts.get(asked));
    }

    private List<Concept> inContext(int[] numbers, Collection<ConceptId> context) {
      List<Concept> all = concepts(numbers);
      return context.isEmpty() ? all : all.stream().filter(c -> context.contains(c.id())).toList();
    }

    private Verdict right(int asked) {
      Concept part = index.parts.get(asked);
      int rank = rankOf(asked);
      if (rank == NameIndex.COLLOQUIAL) {
        return new Verdict.RightColloquial(part, reading());
      }
      if (rank == NameIndex.ALTERNATIVE) {
        return new Verdict.RightSynonym(part, reading());
      }
      return new Verdict.Right(part, reading(), unsaidQualifiers(asked));
    }

    /** How good the name is: as good as a term said word for word, else as its worst word. */
    private int rankOf(int asked) {
      int exact = rankOfTermSaid(asked);
      if (exact < NO_TERM) {
        return exact;
      }
      int best = NO_TERM;
      for (Label label : index.labels(asked)) {
        if (isSaidWhole(asked, label) && isMadeOf(label, asked)) {
          best = Math.min(best, Math.max(rankOf(label.role()), worstRank(asked, label)));
        }
      }
      return best < NO_TERM ? best : worstRank(asked, NOTHING_SAID_FOR_IT);
    }

    /** The rank of the term that has just the words that were said, or {@link #NO_TERM}. */
    private int rankOfTermSaid(int asked) {
      int best = NO_TERM;
      for (Label label : index.labels(asked)) {
        boolean allSaid = true;
        for (int w : label.words()) {
          allSaid &= isSaid(w);
        }
        boolean nothingElse = true;
        for (int w : said) {
          nothingElse &= contains(label.words(), w);
        }
        best = allSaid && nothingElse ? Math.min(best, rankOf(label.role())) : best;
      }
      return best;
    }

    /** The rank of the worst word that is not one of a term's own. */
    private int worstRank(int asked, Label label) {
      int worst = NameIndex.PREFERRED;
      for (int w : said) {
        worst = contains(label.words(), w) ? worst : Math.max(worst, index.rank(asked, w));
      }
      return worst;
    }

    private static int rankOf(TermRole role) {
      return switch (role) {
        case PREFERRED, MISSPELLING -> NameIndex.PREFERRED;
        case ALTERNATIVE -> NameIndex.ALTERNATIVE;
        case COLLOQUIAL -> NameIndex.COLLOQUIAL;
      };
    }

    private boolean isMadeOf(Label label, int part) {
      for (int w : needed) {
        if (!contains(label.words(), w) && !isAnswerIn(label, part, w)) {
          return false;
        }
      }
      return true;
    }

    private List<Question> unsaidQualifiers(int asked) {
      List<Question> unsaid = new ArrayList<>(0);
      for (int facet : index.labels(asked).get(0).qualifiers()) {
        if (!index.says(said, facet, index.value(asked, facet))) {
          unsaid.add(question(facet));
        }
      }
      return unsaid;
    }

    private Question question(int facet) {
      Facet f = index.facets.get(facet);
      return new Question(f.id(), f.title());
    }

    private Verdict tooVague(int asked, Collection<ConceptId> context) {
      List<Question> missing = new ArrayList<>();
      for (int f = 0; f < index.facets.size(); f++) {
        int own = index.value(asked, f);
        boolean open = own != NameIndex.NO_VALUE && !index.says(said, f, own);
        if (open && differs(offered(asked), f)) {
          missing.add(question(f));
        }
      }
      boolean braces = Arrays.stream(offered(asked)).allMatch(p -> !index.parts.get(p).joins().isEmpty());
      if (missing.isEmpty() && braces) {
        missing.add(Question.JOINS);
      }
      return new Verdict.TooVague(
          index.parts.get(asked), reading(), missing, inContext(offered(asked), context), namesNoun);
    }

    private boolean differs(int[] parts, int facet) {
      int first = index.value(parts[0], facet);
      return Arrays.stream(parts).anyMatch(p -> index.value(p, facet) != first);
    }

    private Verdict wrong(int asked) {
      Concept part = index.parts.get(asked);
      if (picked.length > 0 && Arrays.stream(picked).allMatch(p -> joinsOtherThings(asked, p))) {
        String said = String.join(" and ", index.joined(picked[0]));
        return new Verdict.WrongQualifier(part, reading(), Question.JOINS, said, String.join(" and ", index.joined(asked)));
      }
      if (picked.length == 0 && contradictsItself(asked)) {
        return new Verdict.Unknown(part, reading());
      }
      Set<Integer> against = new LinkedHashSet<>();
      if (hasHead(said, asked) && standsOnlyByQualifiers(asked, against)) {
        replaceByOneDifference(asked, against);
        if (against.size() == 1) {
          return wrongQualifier(asked, against.iterator().next());
        }
      }
      return picked.length > 0 ? new Verdict.OtherPart(part, reading()) : new Verdict.Unknown(part, reading());
    }

    /** Whether another part is a brace of the same kind with one end elsewhere, and no question answered otherwise. */
    private boolean joinsOtherThings(int asked, int read) {
      Concept one = index.parts.get(asked);
      Concept other = index.parts.get(read);
      Set<ConceptId> shared = new LinkedHashSet<>(one.joins());
      shared.retainAll(other.joins());
      boolean alike = one.broader().equals(other.broader()) && differences(asked, read).isEmpty();
      return alike && !shared.isEmpty() && shared.size() < Set.copyOf(one.joins()).size();
    }

    /** The facets whose questions two parts both answer, differently. */
    private List<Integer> differences(int one, int other) {
      List<Integer> different = new ArrayList<>();
      for (int f = 0; f < index.facets.size(); f++) {
        int own = index.value(one, f);
        int read = index.value(other, f);
        if (own != read && own != NameIndex.NO_VALUE && read != NameIndex.NO_VALUE) {
          different.add(f);
        }
      }
      return different;
    }

    /**
     * Whether the words that do not belong to the asked part are all answers to facets' questions; collects those facets,
     * the ones that the asked part has an answer to if there are any such.
     */
    private boolean standsOnlyByQualifiers(int asked, Set<Integer> against) {
      Set<Integer> foreign = new LinkedHashSet<>();
      for (int w : said) {
        if (!index.any(w).contains(asked)) {
          int facet = facetAgainst(w, asked);
          if (facet >= 0 && index.value(asked, facet) != NameIndex.NO_VALUE) {
            against.add(facet);
          } else if (facet >= 0 && !index.isOptional(w)) {
            foreign.add(facet);
          } else if (!index.isOptional(w)) {
            return false;
          }
        }
      }
      if (against.isEmpty()) {
        against.addAll(foreign);
      }
      return true;
    }

    /** The facet that a word answers otherwise than the asked part, best one that the part has an answer to; or -1. */
    private int facetAgainst(int word, int asked) {
      int found = -1;
      for (int f = index.facets.size() - 1; f >= 0; f--) {
        if (index.saidBy(word, f) != 0 && (found < 0 || index.value(asked, f) != NameIndex.NO_VALUE)) {
          found = f;
        }
      }
      return found;
    }

    /**
     * If what was said answers only a question that the asked part does not answer, finds the one that it answers otherwise:
     * "third slide crook" said of the main tuning slide's crook, which has no valve to name, is about which slide it is.
     */
    private void replaceByOneDifference(int asked, Set<Integer> against) {
      boolean told = against.stream().anyMatch(f -> index.value(asked, f) != NameIndex.NO_VALUE);
      if (told) {
        return;
      }
      List<Integer> different = picked.length > 0 ? differences(asked, picked[0]) : impliedAgainst(asked, against);
      if (different.size() == 1) {
        against.clear();
        against.addAll(different);
      }
    }

    private List<Integer> impliedAgainst(int asked, Set<Integer> foreign) {
      for (int facet : foreign) {
        for (int w : said) {
          long values = index.saidBy(w, facet);
          if (values != 0) {
            return index.excludedBy(facet, Long.numberOfTrailingZeros(values), asked);
          }
        }
      }
      return List.of();
    }

    private Verdict wrongQualifier(int asked, int facet) {
      Concept part = index.parts.get(asked);
      int own = index.value(asked, facet);
      String is = own == NameIndex.NO_VALUE ? "" : index.facets.get(facet).values().get(own).term();
      return new Verdict.WrongQualifier(part, reading(), question(facet), saidFor(facet, asked), is);
    }

    private String saidFor(int facet, int asked) {
      List<Facet.Value> choices = index.facets.get(facet).values();
      for (int w : said) {
        long values = index.saidBy(w, facet);
        if (values != 0 && !index.any(w).contains(asked)) {
          return choices.get(Long.numberOfTrailingZeros(values)).term();
        }
      }
      int read = picked.length == 0 ? NameIndex.NO_VALUE : index.value(picked[0], facet);
      return read == NameIndex.NO_VALUE ? typed.strip() : choices.get(read).term();
    }
  }
}
