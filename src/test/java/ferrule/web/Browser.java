package ferrule.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** A visitor over real HTTP with cookies of its own, who does not follow redirects. */
public final class Browser {

  private final HttpClient client =
      HttpClient.newBuilder().cookieHandler(new CookieManager()).version(HttpClient.Version.HTTP_1_1).build();
  private final String base;

  /** A new visitor to the server on this port of this machine. */
  public Browser(int port) {
    this.base = "http://127.0.0.1:" + port;
  }

  /** What came back. */
  public record Answer(HttpResponse<String> response) {

    public int status() {
      return response.statusCode();
    }

    public String body() {
      return response.body();
    }

    /** The header's value, or an empty text. */
    public String header(String name) {
      return response.headers().firstValue(name).orElse("");
    }

    /** Where a redirect leads, or an empty text. */
    public String location() {
      return header("Location");
    }

    /** The value of the first hidden field with this name. */
    public String hidden(String name) {
      Matcher field = Pattern.compile("type=\"hidden\" name=\"" + name + "\" value=\"([^\"]*)\"").matcher(body());
      if (!field.find()) {
        throw new AssertionError("no hidden field " + name + " in a page with status " + status() + ":\n" + body());
      }
      return field.group(1);
    }
  }

  /** Reads a page. */
  public Answer get(String path) {
    return send(HttpRequest.newBuilder(URI.create(base + path)).GET());
  }

  /** Reads a file. */
  public byte[] getBytes(String path) {
    return send(HttpRequest.newBuilder(URI.create(base + path)).GET(), HttpResponse.BodyHandlers.ofByteArray()).body();
  }

  /** Sends a form. */
  public Answer post(String path, Map<String, String> fields) {
    String body =
        fields.entrySet().stream()
            .map(e -> encoded(e.getKey()) + "=" + encoded(e.getValue()))
            .collect(Collectors.joining("&"));
    return postForm(path, body);
  }

  /** Sends a form whose fields are encoded already, where one stands more than once. */
  public Answer postForm(String path, String body) {
    return send(
        HttpRequest.newBuilder(URI.create(base + path))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .POST(HttpRequest.BodyPublishers.ofString(body)));
  }

  /** Sends a text as the file of a form. */
  public Answer upload(String path, String secret, String content) {
    String mark = "a-mark-that-stands-in-no-field";
    String body = part(mark, "\"csrf\"", secret) + part(mark, "\"file\"; filename=\"file\"", content) + "--" + mark + "--\r\n";
    return send(
        HttpRequest.newBuilder(URI.create(base + path))
            .header("Content-Type", "multipart/form-data; boundary=" + mark)
            .POST(HttpRequest.BodyPublishers.ofString(body)));
  }

  private static String part(String mark, String name, String content) {
    return "--" + mark + "\r\nContent-Disposition: form-data; name=" + name + "\r\n\r\n" + content + "\r\n";
  }

  /** Signs in by the form. */
  public Answer signIn(String name, String password, String then) {
    String secret = get("/sign-in").hidden("csrf");
    return post("/sign-in", Map.of("csrf", secret, "name", name, "password", password, "then", then));
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  private Answer send(HttpRequest.Builder request) {
    return new Answer(send(request, HttpResponse.BodyHandlers.ofString()));
  }

  private <T> HttpResponse<T> send(HttpRequest.Builder request, HttpResponse.BodyHandler<T> body) {
    try {
      return client.send(request.build(), body);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted", e);
    }
  }
}
