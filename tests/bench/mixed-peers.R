# usage: Rscript mixed-peers.R nlme|lme|lmer FILE REPS -> one JSON line
# Times general-purpose software on the same file; reading it is not counted.
a <- commandArgs(TRUE)
task <- a[1]
d <- read.csv(a[2])
d$id <- factor(d$id)
reps <- as.integer(a[3])
suppressMessages(library(if (task == "lmer") "lme4" else "nlme", character.only = TRUE))
fit <- switch(task,
  nlme = function() nlme(y ~ SSlogis(t, Asym, xmid, scal), d, fixed = Asym + xmid + scal ~ 1,
    random = Asym + xmid ~ 1 | id, start = c(Asym = 950, xmid = 20, scal = 7)),
  lme = function() lme(y ~ t * season, random = ~ t | id, d),
  lmer = function() suppressWarnings(lmer(y ~ t * season + (t | id), d)))
times <- cpu <- numeric(reps)
for (i in seq_len(reps)) {
  invisible(gc())
  s <- system.time(m <- fit())
  times[i] <- s[["elapsed"]]
  cpu[i] <- s[["user.self"]] + s[["sys.self"]]
}
cat(sprintf('{"times":[%s],"cpu":[%s],"logLik":%.10g}\n',
  paste(sprintf("%.4f", times), collapse = ","), paste(sprintf("%.4f", cpu), collapse = ","),
  c(logLik(m))))
