package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.TermRole;
import ferrule.naming.NameIndex.Label;
import ferrule.naming.Reading.Obstacle;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.IntPredicate;

/**
 * One phrase held against a glossary's names: its words, the parts that it fits, and of those the ones that it picks out, by
 * the rules of {@link TermReader}.
 */
final class Scan {

  private static final int[] NO_PARTS = new int[0];
  private static final int NO_TERM = Integer.MAX_VALUE;
  private static final Label NOTHING_SAID_FOR_IT =
      new Label(NO_PARTS, NO_PARTS, NO_PARTS, NO_PARTS, TermRole.PREFERRED, true);


  private final NameIndex index;
  private final Lexicon lexicon;
  final String typed;
  private final Lexicon.Spoken spoken;
  final int[] said;
  private final int[] needed;
  /** All that fit, everyday names included. */
  int[] fits = NO_PARTS;
  /** Of those, the ones that the phrase picks out: with a trade term for one part, an everyday name for another yields. */
  int[] picked = NO_PARTS;
  boolean namesNoun;
  long work;

  Scan(NameIndex index, String typed) {
    this.index = index;
    this.lexicon = index.lexicon;
    this.typed = typed;
    this.spoken = lexicon.understand(Wording.of(typed));
    this.said = spoken.words();
    this.needed = withoutOptional(said);
    this.work = spoken.work + (long) typed.length();
    if (blockedBy() == Obstacle.NONE) {
      fit();
    }
  }

  Obstacle blockedBy() {
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

  boolean hasHead(int[] words, int part) {
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
  boolean contradictsItself(int asked) {
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

  List<Concept> concepts(int[] numbers) {
    List<Concept> found = new ArrayList<>(numbers.length);
    for (int part : numbers) {
      found.add(index.parts.get(part));
    }
    return found;
  }

  boolean contains(int[] numbers, int part) {
    for (int p : numbers) {
      if (p == part) {
        return true;
      }
    }
    return false;
  }

  /** How good the name is: as good as a term said word for word, else as its worst word. */
  int rankOf(int asked) {
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
}
