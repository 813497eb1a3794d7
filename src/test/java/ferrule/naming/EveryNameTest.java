package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import ferrule.glossary.Term;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class EveryNameTest {

  private final NameForms forms = new NameForms(Trumpet.GLOSSARY);

  @Test
  void everyTermOfEveryPartInEveryOrderReadsBackToThatPart() {
    int said = 0;
    int declared = 0;
    List<String> failures = new ArrayList<>();
    for (Concept part : Trumpet.GLOSSARY.nameable()) {
      for (Map.Entry<String, Term> name : forms.all(part).entrySet()) {
        said++;
        boolean readsBack = Trumpet.READER.read(name.getKey()).parts().equals(List.of(part));
        if (!readsBack && isDeclaredAmbiguity(part, name.getKey(), name.getValue())) {
          declared++;
        } else if (!readsBack) {
          failures.add(part.id() + " <- " + name.getKey() + " -> " + Trumpet.picked(name.getKey()));
        }
      }
    }
    System.out.printf(
        "every name: %d names of %d parts, %d read back, %d ambiguous by a declared sense, %d not%n",
        said, Trumpet.GLOSSARY.nameable().size(), said - declared - failures.size(), declared, failures.size());
    assertTrue(said > 20_000, "only " + said + " names were generated");
    assertEquals(List.of(), failures);
  }

  /** The glossary says that the word has another sense, and the part is among those that the reader offers. */
  private static boolean isDeclaredAmbiguity(Concept part, String name, Term term) {
    return term.sense().isPresent()
        && Trumpet.READER.judge(part.id(), name) instanceof Verdict.TooVague vague
        && vague.fits().contains(part);
  }
}
