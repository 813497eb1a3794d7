package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DamerauLevenshteinTest {

  // kitten/sitting, Saturday/Sunday and CA/ABC (3 by optimal string alignment, 2 unrestricted): textbook examples.
  @ParameterizedTest
  @CsvSource({
    "kitten, sitting, 3", "saturday, sunday, 3", "ca, abc, 3", "crook, crook, 0", "crook, corok, 1", "slide, sldie, 1",
    "inner, outer, 3", "cap, cup, 1", "a, b, 1", "ab, ba, 1"
  })
  void theDistanceIsThatOfOptimalStringAlignment(String a, String b, int distance) {
    assertEquals(distance, DamerauLevenshtein.within(a, b, 8));
    assertEquals(distance, DamerauLevenshtein.within(b, a, 8));
  }

  @Test
  void beyondTheBoundOnlyThatIsTold() {
    assertEquals(2, DamerauLevenshtein.within("kitten", "sitting", 1));
    assertEquals(3, DamerauLevenshtein.within("kitten", "sitting", 2));
    assertEquals(3, DamerauLevenshtein.within("", "abc", 4));
  }

  @Test
  void theDeletionIndexFindsJustWhatComparingWithEveryWordFinds() {
    List<String> words = List.of("valve", "slide", "lower", "lever", "upper", "bumper", "leadpipe", "cap", "cup", "ferrule");
    for (int edits = 1; edits <= 2; edits++) {
      DeletionIndex index = new DeletionIndex(words, edits);
      for (String word : words) {
        for (String slip : Slips.of(word)) {
          for (String typed : edits == 1 ? Set.of(slip) : Set.of(slip, slip + "x", "x" + slip)) {
            int bound = edits;
            Set<String> expected = new TreeSet<>(words);
            expected.removeIf(w -> DamerauLevenshtein.within(typed, w, bound) > bound);
            Set<String> found = new TreeSet<>();
            index.near(typed, (place, distance) -> found.add(words.get(place)));
            assertEquals(expected, found, typed);
          }
        }
      }
    }
  }
}
