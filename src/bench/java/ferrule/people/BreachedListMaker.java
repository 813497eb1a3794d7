package ferrule.people;

import java.io.DataOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.TreeSet;

/**
 * Makes {@code src/main/resources/people/breached.bin} from a list of passwords, the most used first: every one that is
 * long enough to be chosen here, and the first {@value #WORDS} of any length, which people lengthen with digits.
 *
 * <p>Arguments: the list, the file to write.
 */
public final class BreachedListMaker {

  private static final int WORDS = 30_000;

  private BreachedListMaker() {}

  /** Writes the file. */
  public static void main(String[] args) throws IOException {
    TreeSet<Integer> marks = new TreeSet<>(Integer::compareUnsigned);
    int line = 0;
    for (String password : Files.readAllLines(Path.of(args[0]))) {
      line++;
      if (password.length() >= PasswordRule.SHORTEST || line <= WORDS && password.length() >= 4) {
        marks.add(BreachedList.mark(password.toLowerCase(Locale.ROOT)));
      }
    }
    try (DataOutputStream out = new DataOutputStream(Files.newOutputStream(Path.of(args[1])))) {
      for (int mark : marks) {
        out.writeInt(mark);
      }
    }
    System.out.println(marks.size() + " passwords");
  }
}
