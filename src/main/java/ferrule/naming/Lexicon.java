package ferrule.naming;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * The words that occur in a glossary's names, numbered, and every written form that is read as one of them: plurals,
 * number forms, the other country's spelling, short forms, compounds written apart or together, and misspellings.
 *
 * <p>Compounds are one word wherever the glossary writes them as one anywhere: with "leadpipe" in one term, "lead pipe"
 * is that word in every term and in every answer.
 */
final class Lexicon {

  /** An answer of more words than this names nothing. */
  static final int MOST_WORDS = 32;

  private static final int LONGEST_WORD = 40;
  private static final int LONGEST_PIECE = 16;
  private static final int FEWEST_LETTERS = 4;
  private static final Set<String> GLUE = Set.of("of", "the", "to", "and", "on");
  private static final int[] NOTHING = new int[0];

  private final List<String> words;
  private final Map<String, Integer> numbers = new HashMap<>();
  private final Map<String, int[]> forms = new HashMap<>();
  private final boolean[] startsCompound;
  private final Set<String> compoundEnds = new HashSet<>();
  private final Map<String, List<String>> compounds = new HashMap<>();
  private final Map<String, Set<String>> idle = new HashMap<>();
  private final Set<Integer> describing = new HashSet<>();
  private final Set<String> knownSlips = new HashSet<>();
  private final Spelling spelling;
  private final Map<String, int[]> phrases = new HashMap<>();

  /**
   * A lexicon.
   *
   * @param phrases every phrase whose words count: terms and facet words
   * @param idleWords words of those phrases that tell nothing, each with the words after which it is passed over
   * @param slips known misspellings to the words that they are meant for
   * @param adjectives facet words other than numbers; after them, "one" stands for a noun and not for a number
   */
  Lexicon(
      Collection<String> phrases,
      Map<String, Set<String>> idleWords,
      Map<String, String> slips,
      Collection<String> adjectives) {
    Set<String> all = tokensOf(phrases);
    Set<String> distinct = new TreeSet<>();
    all.forEach(token -> distinct.add(baseOf(token, all)));
    Set<String> halves = compoundsIn(phrases, distinct);
    distinct.removeAll(halves);
    distinct.removeAll(idleWords.keySet());
    idle.putAll(idleWords);
    English.ORDINALS.values().forEach(distinct::add);
    this.words = List.copyOf(distinct);
    words.forEach(w -> numbers.put(w, numbers.size()));
    this.startsCompound = new boolean[words.size()];
    this.spelling = new Spelling(addForms(halves));
    slips.forEach(this::addSlip);
    English.SHORT_FORMS.forEach(this::addShortForm);
    tokensOf(adjectives).forEach(a -> describing.add(numbers.getOrDefault(a, -1)));
  }

  private void addShortForm(String form, List<String> meant) {
    Spoken spoken = understand(new Wording(meant));
    if (spoken.unknown.isEmpty() && spoken.corrections.isEmpty()) {
      forms.putIfAbsent(form, spoken.sequence());
    }
  }

  private void addSlip(String wrong, String right) {
    int[] meant = forms.get(right);
    boolean contested = spelling.guess(wrong).isEvenAtOneEdit();
    if (meant != null && !contested && !forms.containsKey(wrong)) {
      forms.put(wrong, meant);
      knownSlips.add(wrong);
      String several = English.plural(wrong);
      if (!forms.containsKey(several)) {
        forms.put(several, meant);
        knownSlips.add(several);
      }
    }
  }

  private static Set<String> tokensOf(Collection<String> phrases) {
    Set<String> tokens = new HashSet<>();
    for (String phrase : phrases) {
      List<String> words = Wording.of(phrase).words();
      for (int i = 0; i < words.size(); i++) {
        String word = words.get(i);
        boolean marksNumber = i + 1 < words.size() && marksNumber(word, words.get(i + 1));
        if (!English.BINDING.contains(word) && !marksNumber) {
          tokens.add(English.ORDINALS.getOrDefault(word, word));
        }
      }
    }
    return tokens;
  }

  /** The singular if the glossary uses it too, else the word itself. */
  private static String baseOf(String token, Set<String> all) {
    if (token.endsWith("s") && token.length() > 3) {
      String shorter = token.substring(0, token.length() - 1);
      if (all.contains(shorter) && English.plural(shorter).equals(token)) {
        return shorter;
      }
    }
    return token;
  }

  /** Words that stand only in compounds that the glossary also writes as one word, such as "lead" beside "leadpipe". */
  private static Set<String> compoundsIn(Collection<String> phrases, Set<String> all) {
    Set<String> inCompounds = new HashSet<>();
    Set<String> elsewhere = new HashSet<>();
    for (String phrase : phrases) {
      List<String> tokens = Wording.of(phrase).words();
      for (int i = 0; i < tokens.size(); i++) {
        boolean joined = i + 1 < tokens.size() && all.contains(tokens.get(i) + tokens.get(i + 1));
        (joined ? inCompounds : elsewhere).add(tokens.get(i));
        if (joined) {
          inCompounds.add(tokens.get(++i));
        }
      }
    }
    inCompounds.removeAll(elsewhere);
    return inCompounds;
  }

  /** Adds the written forms of every word and gives those that a misspelling may be read as. */
  private Map<String, Integer> addForms(Set<String> halves) {
    Map<String, Integer> spellable = new LinkedHashMap<>();
    words.forEach(word -> addForm(word, numbers.get(word)));
    for (String word : words) {
      int number = numbers.get(word);
      spellable.put(word, number);
      for (String other : otherForms(word)) {
        addForm(other, number);
        spellable.putIfAbsent(other, number);
      }
    }
    English.ORDINALS.forEach((form, ordinal) -> {
      addForm(form, numbers.get(ordinal));
      if (form.length() >= FEWEST_LETTERS) {
        spellable.putIfAbsent(form, numbers.get(ordinal));
      }
    });
    for (String word : words) {
      for (int cut = 2; cut <= word.length() - 2; cut++) {
        String start = word.substring(0, cut);
        boolean ofWords = forms.containsKey(start) || halves.contains(start);
        if (ofWords && forms.containsKey(word.substring(cut))) {
          compoundEnds.add(word.substring(cut));
        }
        if (forms.containsKey(start)) {
          compounds.computeIfAbsent(start, k -> new ArrayList<>()).add(word);
        }
      }
    }
    compounds.keySet().forEach(start -> startsCompound[forms.get(start)[0]] = true);
    return spellable;
  }

  private static List<String> otherForms(String word) {
    List<String> others = new ArrayList<>(4);
    others.add(English.plural(word));
    if (word.endsWith("s") && !word.endsWith("ss") && word.length() > 4) {
      others.add(word.substring(0, word.length() - 1));
    }
    if (English.OTHER_SPELLING.containsKey(word)) {
      String other = English.OTHER_SPELLING.get(word);
      others.add(other);
      others.add(English.plural(other));
    }
    return others;
  }

  private void addForm(String form, int number) {
    forms.putIfAbsent(form, new int[] {number});
  }

  /** How many words there are; they are numbered from 0. */
  int size() {
    return words.size();
  }

  /** The word with this number. */
  String word(int number) {
    return words.get(number);
  }

  /**
   * The numbers of the words of one of the glossary's own phrases, in its order and as often as they stand in it. For the
   * making of an index, on one thread; answers are read by {@link #understand}.
   */
  int[] numbersOf(String phrase) {
    return phrases.computeIfAbsent(phrase, p -> understand(Wording.of(p)).sequence());
  }

  /** Whether each word of a phrase is known without a guess, or as a noted misspelling. */
  boolean knows(String phrase) {
    Spoken spoken = understand(Wording.of(phrase));
    return spoken.unknown.isEmpty() && !spoken.denies && spoken.length > 0;
  }

  /** What a phrase says, in words of the glossary. */
  Spoken understand(Wording phrase) {
    Spoken spoken = new Spoken();
    List<String> said = phrase.words();
    if (said.size() > MOST_WORDS) {
      spoken.tooLong = true;
      return spoken;
    }
    for (int i = 0; i < said.size(); i++) {
      i += understandAt(said, i, spoken);
    }
    return spoken;
  }

  /** Understands the word at a place and gives how many more words it took in. */
  private int understandAt(List<String> said, int i, Spoken spoken) {
    String word = said.get(i);
    String following = i + 1 < said.size() ? said.get(i + 1) : "";
    spoken.work++;
    if (English.BINDING.contains(word) || marksNumber(word, following)) {
      return 0;
    }
    int[] meaning = word.length() > LONGEST_WORD ? null : forms.get(word);
    boolean known = meaning != null;
    boolean mayJoin = known ? startsCompound[meaning[0]] : compoundEnds.contains(following) || !forms.containsKey(following);
    if (!following.isEmpty() && mayJoin) {
      String joined = (known ? words.get(meaning[0]) : word) + following;
      int[] together = forms.get(joined);
      if (together != null) {
        addKnown(joined, together, spoken);
        return 1;
      }
      if (known && !forms.containsKey(following) && guessCompoundOf(word, following, spoken)) {
        return 1;
      }
    }
    if (known && isPronoun(word, following, spoken)) {
      spoken.denies |= following.equals("dont") || following.equals("cant") || following.equals("forgot");
      return 0;
    }
    if (known) {
      addKnown(word, meaning, spoken);
      return 0;
    }
    if (isIgnored(word, said, i, spoken)) {
      return 0;
    }
    return guess(word, following, spoken);
  }

  /** Whether a word only says that the following one is a number, as in "no. 1". */
  private static boolean marksNumber(String word, String following) {
    return English.NUMBER_MARKS.contains(word)
        && (English.ORDINALS.containsKey(following) || English.ORDINALS.containsValue(following));
  }

  /** Whether "I" is the writer, or "one" stands for a noun, as in "the upper one". */
  private boolean isPronoun(String word, String following, Spoken spoken) {
    if (word.equals("i")) {
      return English.AFTER_THE_WRITER.contains(following);
    }
    if (!word.equals("one")) {
      return false;
    }
    boolean afterAdjectives = spoken.count > 0 && Arrays.stream(spoken.words()).allMatch(describing::contains);
    return following.isEmpty() && afterAdjectives || spoken.saysNumber(this);
  }

  private boolean isIgnored(String word, List<String> said, int i, Spoken spoken) {
    if (word.equals("no") && i > 0 && forms.containsKey("number")) {
      spoken.add(forms.get("number"));
      return true;
    }
    if (English.DENYING.contains(word)) {
      spoken.denies = true;
      return true;
    }
    if (English.PLACEHOLDER.contains(word)) {
      boolean described = i + 1 < said.size() && English.DESCRIBING.contains(said.get(i + 1));
      spoken.describes |= described;
      return true;
    }
    return English.FILLER.contains(word)
        || i > 0 && idle.getOrDefault(word, Set.of()).contains(said.get(i - 1));
  }

  private void addKnown(String form, int[] meaning, Spoken spoken) {
    spoken.add(meaning);
    if (knownSlips.contains(form)) {
      spoken.corrections.add(new Correction(form, words.get(meaning[0])));
    }
  }

  /** Reads a known word and a misspelled one as a compound that starts with the known one. */
  private boolean guessCompoundOf(String word, String following, Spoken spoken) {
    for (String compound : compounds.getOrDefault(word, List.of())) {
      spoken.work++;
      boolean longEnough = compound.length() - word.length() >= FEWEST_LETTERS;
      if (longEnough && DamerauLevenshtein.within(compound.substring(word.length()), following, 1) <= 1) {
        spoken.correct(word + " " + following, numbers.get(compound), this);
        return true;
      }
    }
    return false;
  }

  /** Reads two words as one compound with a slip in it, and gives how many more words than one that took: 1 or 0. */
  private int guessCompound(String word, String following, Spoken spoken) {
    if (following.isEmpty() || English.BINDING.contains(following) || English.FILLER.contains(following)) {
      return 0;
    }
    Spelling.Guess joined = spelling.guess(word + following);
    spoken.work += joined.work;
    boolean endsAlike = joined.meaning >= 0 && words.get(joined.meaning).endsWith(following);
    if (joined.meaning < 0 || forms.containsKey(following) && !endsAlike) {
      return 0;
    }
    spoken.correct(word + " " + following, joined.meaning, this);
    return 1;
  }

  private int guess(String word, String following, Spoken spoken) {
    boolean compound = compoundEnds.contains(following) || !forms.containsKey(following);
    if (compound && guessCompound(word, following, spoken) > 0) {
      return 1;
    }
    Spelling.Guess guess = spelling.guess(word);
    spoken.work += guess.work;
    int meaning = guess.meaning >= 0 || !guess.tied.isEmpty() ? guess.meaning : spelling.guessFromConsonants(word);
    if (meaning >= 0 && marksNumber(words.get(meaning), following)) {
      spoken.corrections.add(new Correction(word, words.get(meaning)));
      return 0;
    }
    if (meaning >= 0 && startsCompound[meaning] && forms.containsKey(words.get(meaning) + following)) {
      spoken.correct(word + " " + following, forms.get(words.get(meaning) + following)[0], this);
      return 1;
    }
    if (meaning >= 0) {
      spoken.correct(word, meaning, this);
      return 0;
    }
    int[] run = partsOf(word, spoken);
    if (run.length > 0) {
      spoken.add(run);
    } else {
      spoken.unknown.add(word);
      spoken.tied.addAll(guess.tied);
    }
    return 0;
  }

  /** The words of a run written without gaps, the fewest that make it up; none if it is not made of words. */
  private int[] partsOf(String run, Spoken spoken) {
    int n = run.length();
    if (n < 6 || n > LONGEST_WORD) {
      return NOTHING;
    }
    int[] fewest = new int[n + 1];
    int[] cameFrom = new int[n + 1];
    Arrays.fill(fewest, 1, n + 1, Integer.MAX_VALUE);
    for (int end = 1; end <= n; end++) {
      for (int start = Math.max(0, end - LONGEST_PIECE); start < end; start++) {
        spoken.work++;
        if (fewest[start] < fewest[end] - 1 && isPiece(run.substring(start, end))) {
          fewest[end] = fewest[start] + 1;
          cameFrom[end] = start;
        }
      }
    }
    return fewest[n] == Integer.MAX_VALUE ? NOTHING : collectPieces(run, cameFrom);
  }

  private boolean isPiece(String piece) {
    return GLUE.contains(piece) || piece.length() > 2 && forms.containsKey(piece);
  }

  private int[] collectPieces(String run, int[] cameFrom) {
    List<int[]> pieces = new ArrayList<>();
    for (int end = run.length(); end > 0; end = cameFrom[end]) {
      pieces.add(0, forms.getOrDefault(run.substring(cameFrom[end], end), NOTHING));
    }
    return pieces.stream().flatMapToInt(Arrays::stream).toArray();
  }

  /** What was said, word by word, and what stood in the way. */
  static final class Spoken {
    private int[] words = new int[8];
    private int count;
    private int[] sequence = new int[8];
    private int length;
    final List<Correction> corrections = new ArrayList<>(1);
    final List<String> unknown = new ArrayList<>(1);
    final List<String> tied = new ArrayList<>(0);
    boolean tooLong;
    boolean denies;
    boolean describes;
    int work;

    /** The numbers of the words said, each once, in the order of the phrase. */
    int[] words() {
      return Arrays.copyOf(words, count);
    }

    /** The numbers of the words said, in the order of the phrase and as often as they were said. */
    int[] sequence() {
      return Arrays.copyOf(sequence, length);
    }

    private void add(int[] meaning) {
      for (int number : meaning) {
        sequence = length == sequence.length ? Arrays.copyOf(sequence, length * 2) : sequence;
        sequence[length++] = number;
        if (!says(number)) {
          if (count == words.length) {
            words = Arrays.copyOf(words, count * 2);
          }
          words[count++] = number;
        }
      }
    }

    private boolean says(int number) {
      for (int i = 0; i < count; i++) {
        if (words[i] == number) {
          return true;
        }
      }
      return false;
    }

    private boolean saysNumber(Lexicon lexicon) {
      for (int i = 0; i < count; i++) {
        if (English.ORDINALS.containsValue(lexicon.word(words[i]))) {
          return true;
        }
      }
      return false;
    }

    private void correct(String typed, int meaning, Lexicon lexicon) {
      add(new int[] {meaning});
      corrections.add(new Correction(typed, lexicon.word(meaning)));
    }
  }
}
