package ferrule.naming;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Reads a misspelled word as the one word that it can be meant for.
 *
 * <p>The bound grows with the word: three and four letters, one slip of the kind that fingers make (a swap, a letter left
 * out, a doubled letter, a neighbouring key); five and six, one edit; seven and more, two. Failing that, the words that
 * sound alike ({@link SoundKey}) and are not far apart on paper. Of the words within reach only the nearest count, and
 * where two different words are equally near the answer is none: a guess across a tie would put words into the writer's
 * mouth. The caller asks only about words that are not words of the glossary, so that no valid word is ever read as
 * another.
 */
final class Spelling {

  private static final int SHORTEST = 3;
  private static final int LONGEST = 40;
  private static final int LETTERS_FOR_TWO = 7;
  private static final String[] KEY_ROWS = {"qwertyuiop", "asdfghjkl", "zxcvbnm"};
  private static final boolean[] NEIGHBOURS = neighbours();

  private final List<String> forms;
  private final int[] meanings;
  private final DeletionIndex oneEdit;
  private final DeletionIndex twoEdits;
  private final Map<String, int[]> alike = new HashMap<>();
  private final Map<String, Integer> consonants = new HashMap<>();

  /**
   * A speller of these written forms.
   *
   * @param meaningOf each form and the number of the word that it is a form of
   */
  Spelling(Map<String, Integer> meaningOf) {
    this.forms = meaningOf.keySet().stream().filter(Spelling::isSpellable).sorted().toList();
    this.meanings = forms.stream().mapToInt(meaningOf::get).toArray();
    this.oneEdit = new DeletionIndex(forms, 1);
    this.twoEdits = new DeletionIndex(forms, 2);
    Set<String> contested = new HashSet<>();
    for (int i = 0; i < forms.size(); i++) {
      int at = i;
      alike.merge(SoundKey.of(forms.get(i)), new int[] {at}, Spelling::joined);
      String bare = English.consonants(forms.get(i));
      Integer earlier = bare.length() < SHORTEST ? null : consonants.put(bare, meanings[i]);
      if (earlier != null && earlier != meanings[i]) {
        contested.add(bare);
      }
    }
    consonants.keySet().removeAll(contested);
  }

  private static int[] joined(int[] a, int[] b) {
    int[] both = Arrays.copyOf(a, a.length + b.length);
    System.arraycopy(b, 0, both, a.length, b.length);
    return both;
  }

  private static boolean isSpellable(String form) {
    return form.length() >= SHORTEST && form.length() <= LONGEST && form.chars().allMatch(Character::isLetter);
  }

  /** The outcome of a look-up. */
  static final class Guess {
    /** The number of the word meant, or -1 if none or more than one can be. */
    int meaning = -1;
    /** The words that were equally near, if that is why there is no meaning. */
    List<String> tied = List.of();
    /** How far the nearest words are from what was typed. */
    int distance;
    /** How many stored words were looked at. */
    int work;

    /** Whether two words are one edit away, so that not even a note of the misspelling could tell which is meant. */
    boolean isEvenAtOneEdit() {
      return !tied.isEmpty() && distance <= 1;
    }
  }

  /** The word that an unknown word of letters is meant for. */
  Guess guess(String typed) {
    Guess guess = new Guess();
    if (typed.length() < SHORTEST || typed.length() > LONGEST) {
      return guess;
    }
    Nearest nearest = new Nearest();
    guess.work += oneEdit.near(typed, nearest::offer);
    if (nearest.distance > 1 && typed.length() >= LETTERS_FOR_TWO) {
      guess.work += twoEdits.near(typed, nearest::offer);
    }
    if (nearest.distance == Nearest.NONE) {
      guess.work += offerAlike(typed, nearest);
      offerAsNear(typed, nearest);
    }
    guess.distance = nearest.distance;
    settle(typed, nearest, guess);
    return guess;
  }

  /** The word whose consonants alone were typed, such as "vlv"; -1 if there is none or a vowel was typed. */
  int guessFromConsonants(String typed) {
    boolean bare = typed.chars().skip(1).noneMatch(c -> "aeiou".indexOf(c) >= 0);
    return bare && typed.length() <= LONGEST ? consonants.getOrDefault(English.consonants(typed), -1) : -1;
  }

  private int offerAlike(String typed, Nearest nearest) {
    if (typed.length() < 4) {
      return 0;
    }
    int bound = typed.length() < 7 ? 2 : 3;
    int[] same = alike.getOrDefault(SoundKey.of(typed), new int[0]);
    for (int place : same) {
      int distance = DamerauLevenshtein.within(typed, forms.get(place), bound);
      if (distance <= bound && forms.get(place).length() >= 4) {
        nearest.offer(place, distance);
      }
    }
    return same.length;
  }

  /** A word that sounds alike is no better a guess than one that looks as much alike: offers those too, so that they tie. */
  private void offerAsNear(String typed, Nearest alike) {
    if (alike.distance != Nearest.NONE && typed.length() < LETTERS_FOR_TWO) {
      int distance = alike.distance;
      twoEdits.near(typed, (place, itsDistance) -> alike.offer(place, Math.max(itsDistance, distance)));
    }
  }

  private void settle(String typed, Nearest nearest, Guess guess) {
    if (nearest.distance == Nearest.NONE) {
      return;
    }
    List<Integer> found = nearest.places.stream().map(p -> meanings[p]).distinct().toList();
    if (found.size() > 1) {
      guess.tied = nearest.places.stream().map(forms::get).distinct().sorted().toList();
    } else if (typed.length() > 4 || nearest.places.stream().anyMatch(p -> isSlipOfFingers(typed, forms.get(p)))) {
      guess.meaning = found.get(0);
    }
  }

  /** Whether a short word came from another by a swap, a lost letter, a doubled letter or a neighbouring key. */
  private static boolean isSlipOfFingers(String typed, String meant) {
    if (typed.length() < meant.length()) {
      return true;
    }
    int at = 0;
    while (at < meant.length() && typed.charAt(at) == meant.charAt(at)) {
      at++;
    }
    if (typed.length() > meant.length()) {
      boolean doubled = at > 0 && typed.charAt(at) == typed.charAt(at - 1);
      return doubled && meant.length() >= SHORTEST;
    }
    boolean swap = at + 1 < typed.length() && typed.charAt(at) == meant.charAt(at + 1);
    return swap || typed.length() > SHORTEST && areAlikeOrNear(typed.charAt(at), meant.charAt(at));
  }

  private static boolean areAlikeOrNear(char a, char b) {
    boolean vowels = "aeiou".indexOf(a) >= 0 && "aeiou".indexOf(b) >= 0;
    boolean sounds = "cksqz".indexOf(a) >= 0 && "cksqz".indexOf(b) >= 0;
    return vowels || sounds || a < 128 && b < 128 && NEIGHBOURS[a * 128 + b];
  }

  private static boolean[] neighbours() {
    boolean[] near = new boolean[128 * 128];
    for (int row = 0; row < KEY_ROWS.length; row++) {
      for (int column = 0; column < KEY_ROWS[row].length(); column++) {
        char key = KEY_ROWS[row].charAt(column);
        markNear(near, key, row, column + 1);
        markNear(near, key, row + 1, column);
        markNear(near, key, row + 1, column - 1);
      }
    }
    return near;
  }

  private static void markNear(boolean[] near, char key, int row, int column) {
    if (row < KEY_ROWS.length && column >= 0 && column < KEY_ROWS[row].length()) {
      char other = KEY_ROWS[row].charAt(column);
      near[key * 128 + other] = true;
      near[other * 128 + key] = true;
    }
  }

  /** Keeps the places of the nearest forms offered. */
  private static final class Nearest {
    static final int NONE = Integer.MAX_VALUE;
    final List<Integer> places = new ArrayList<>(2);
    int distance = NONE;

    void offer(int place, int itsDistance) {
      if (itsDistance < distance) {
        distance = itsDistance;
        places.clear();
      }
      if (itsDistance == distance && !places.contains(place)) {
        places.add(place);
      }
    }
  }
}
